package bill

import (
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// billOf is an invoice of so many cents, issued a fortnight before it falls due.
func billOf(id int64, number string, due unit.Date, total money.Cents) Paper {
	return Paper{ID: id, Kind: Invoice, Number: number, Reference: PaymentReference(number), IssuedOn: due.Plus(-14), UntilOn: due, Total: total}
}

// Calendar days past the due day, at every edge.
func TestAgesAtTheirEdges(t *testing.T) {
	for days, want := range map[int]string{-5: "not yet due", 0: "not yet due", 1: "1–30", 30: "1–30", 31: "31–60", 60: "31–60", 61: "61–90", 90: "61–90", 91: "over 90", 4000: "over 90"} {
		a := Account{Papers: []Paper{billOf(1, "T2026-0001", "2026-03-31", 100)}}
		on := unit.Date("2026-03-31").Plus(days)
		for i, c := range a.AgeingOf(on) {
			if (c == 100) != (Ages[i] == want) {
				t.Errorf("%d days past due: %s holds %s", days, Ages[i], c)
			}
		}
	}
}

func TestPaymentsGoWhereTheyAreDirectedElseByHandElseToTheOldest(t *testing.T) {
	a := Account{Papers: []Paper{billOf(1, "T2026-0001", "2026-05-01", 100_00), billOf(2, "T2026-0002", "2026-04-01", 50_00), billOf(3, "T2026-0003", "2026-06-01", 70_00)}}
	for _, c := range []struct {
		what     string
		amount   money.Cents
		directed int64
		hand     map[int64]money.Cents
		want     map[int64]money.Cents
	}{
		{"the oldest first", 120_00, 0, nil, map[int64]money.Cents{2: 50_00, 1: 70_00}},
		{"more than everything owed", 500_00, 0, nil, map[int64]money.Cents{1: 100_00, 2: 50_00, 3: 70_00}},
		{"by direction", 60_00, 3, nil, map[int64]money.Cents{3: 60_00}},
		{"by direction, the rest to the oldest", 90_00, 3, nil, map[int64]money.Cents{3: 70_00, 2: 20_00}},
		{"by hand, the rest unplaced", 90_00, 0, map[int64]money.Cents{1: 30_00}, map[int64]money.Cents{1: 30_00}},
	} {
		placed, err := a.PlaceBy(c.amount, c.directed, c.hand)
		got := map[int64]money.Cents{}
		for _, p := range placed {
			got[p.PaperID] += p.Amount
		}
		if err != nil || len(got) != len(c.want) {
			t.Errorf("%s: %v, %v", c.what, got, err)
		}
		for id, amount := range c.want {
			if got[id] != amount {
				t.Errorf("%s: %s on invoice %d, want %s", c.what, got[id], id, amount)
			}
		}
	}
	for field, c := range map[string]struct {
		directed int64
		hand     map[int64]money.Cents
	}{
		"direction": {9, nil}, "invoice_2": {0, map[int64]money.Cents{2: 50_01}}, "invoice_3": {0, map[int64]money.Cents{2: 50_00, 1: 20_00, 3: 20_01}},
	} {
		if _, err := a.PlaceBy(90_00, c.directed, c.hand); fault.Fields(err)[field] == "" {
			t.Errorf("%v names no %s", err, field)
		}
	}
	if _, err := a.PlaceBy(90_00, 1, map[int64]money.Cents{2: 1}); fault.Fields(err)["direction"] == "" {
		t.Errorf("both a direction and amounts by hand: %v", err)
	}
}

// Cory Bros v "Mecca" [1897] AC 286: the payer's own words come first.
func TestThePayersWordsNameAnInvoice(t *testing.T) {
	a := Account{Papers: []Paper{billOf(1, "T2026-0001", "2026-05-01", 100), billOf(2, "T2026-0012", "2026-06-01", 100)}}
	for words, want := range map[string]int64{"T2026-0012": 2, "pays t2026 0001 thanks": 1, a.Papers[1].Reference: 2, "T20260012-X": 2, "": 0, "the seeding": 0} {
		b, ok := a.Directed(words)
		if ok != (want != 0) || b.Invoice.ID != want {
			t.Errorf("%q names invoice %d, want %d", words, b.Invoice.ID, want)
		}
	}
}

// ISO 7064 MOD 37,36: A12425GABC1234002 has the check character M (the standard's use in the
// Global Release Identifier; from memory).
func TestTheCheckCharacter(t *testing.T) {
	if got := checkCharacter("A1-2425G-ABC1234002"); got != 'M' {
		t.Errorf("the check character is %c, want M", got)
	}
	ref := PaymentReference("T2026-0001")
	if !ReferenceHolds(ref) || len(ref) > 18 {
		t.Errorf("%s does not hold", ref)
	}
	rapid.Check(t, func(t *rapid.T) {
		ref := []byte(PaymentReference(rapid.StringMatching(`[QTA]20[0-9]{2}-[0-9]{4,9}`).Draw(t, "number")))
		i := rapid.IntRange(0, len(ref)-1).Draw(t, "place")
		wrong := rapid.SampledFrom([]byte(referenceLetters)).Draw(t, "character")
		if len(ref) > 18 || !ReferenceHolds(string(ref)) {
			t.Fatalf("%s does not hold or is too long", ref)
		}
		if ref[i] == '-' || ref[i] == wrong {
			return
		}
		ref[i] = wrong
		if ReferenceHolds(string(ref)) {
			t.Fatalf("%s holds with a wrong character at %d", ref, i)
		}
	})
}

// Whatever is billed, adjusted, paid, placed, reversed and refunded: on every day the ageing
// less the credit is the balance.
func TestTheAgeingLessTheCreditIsTheBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := lived(t)
		for _, on := range []unit.Date{"2026-02-01", "2026-06-30", "2027-01-01"} {
			then := a.Until(on)
			if got := then.AgeingOf(on).Sum() - then.Credit(); got != then.Balance() {
				t.Fatalf("on %s: ageing %v less credit %s is %s, the balance %s", on, then.AgeingOf(on), then.Credit(), got, then.Balance())
			}
		}
		if placed := a.CreditPlacings(); len(placed) > 0 {
			owed, credit := a.Owed(), a.Credit()
			for _, one := range placed {
				i := one.PaymentID - 1
				a.Payments[i].Placings = append(a.Payments[i].Placings, one)
			}
			if a.Owed() != max(0, owed-credit) || a.Credit() != max(0, credit-owed) {
				t.Fatalf("%s owed and %s of credit became %s and %s", owed, credit, a.Owed(), a.Credit())
			}
		}
	})
}

// lived is an account of many acts, each as Accepts allows it.
func lived(t *rapid.T) Account {
	const today = unit.Date("2026-12-31")
	var a Account
	day := rapid.Custom(func(t *rapid.T) unit.Date { return unit.Date("2026-01-01").Plus(rapid.IntRange(0, 364).Draw(t, "day")) })
	amount := rapid.Custom(func(t *rapid.T) money.Cents { return money.Cents(rapid.IntRange(1, 500_00).Draw(t, "amount")) })
	for range rapid.IntRange(1, 25).Draw(t, "acts") {
		id := int64(len(a.Payments) + 1)
		p := Payment{ID: id, Kind: Paid, PaidOn: day.Draw(t, "paid"), Way: "transfer", Amount: amount.Draw(t, "paid")}
		switch rapid.IntRange(0, 4).Draw(t, "act") {
		case 0:
			a.Papers = append(a.Papers, billOf(int64(len(a.Papers)+1), "T", day.Draw(t, "due"), amount.Draw(t, "billed")))
			continue
		case 1:
			if bills := a.Bills(); len(bills) > 0 {
				b := bills[0]
				less := min(b.Total, amount.Draw(t, "less"))
				a.Papers = append(a.Papers, Paper{ID: int64(len(a.Papers) + 1), Kind: Adjustment, AnswersID: b.Invoice.ID, IssuedOn: max(b.Invoice.IssuedOn, day.Draw(t, "adjusted")), Total: -less})
			}
			continue
		case 2:
			back, err := a.Reversal(rapid.Int64Range(1, id).Draw(t, "reversed"))
			if err != nil {
				continue
			}
			p.Kind, p.Amount, p.Placings, p.ReversesID = Reversed, back.Amount, back.Placings, back.ReversesID
			paid, _ := a.Payment(back.ReversesID)
			p.PaidOn = max(p.PaidOn, paid.PaidOn)
		case 3:
			if credit := a.Credit(); credit > 0 {
				p.Kind, p.Amount = Refunded, -min(credit, p.Amount)
			}
		}
		if p.Kind == Paid {
			p.Placings, _ = a.PlaceBy(p.Amount, 0, nil)
		}
		if err := a.Accepts(p, today); err != nil {
			t.Fatalf("%+v: %v", p, err)
		}
		a.Payments = append(a.Payments, p)
	}
	return a
}
