package job

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// issuedNow is the facts with a paper issued on their day.
func (f Facts) issuedNow(p bill.Paper) Facts {
	p.ID = int64(len(f.Papers) + 1)
	p.Number, p.IssuedOn = fmt.Sprintf("T2026-%04d", p.ID), f.Today
	f.Papers = append(f.Papers[:len(f.Papers):len(f.Papers)], p)
	return f
}

// doneOf is the quantity done of each line of the agreed quote, as a share of it.
func doneOf(f Facts, share string) []money.Factor {
	quote, _, _ := f.Agreed()
	out := make([]money.Factor, len(quote.Lines))
	for i, l := range quote.Lines {
		out[i] = l.Quantity.Times(money.MustFactor(share))
	}
	return out
}

// Worked by hand: a deposit of 20 % of 4 418.82 is 883.76; with 10 row-km sown and all other
// lines done, 380.00 + 475.60 + 1 050.00 + 227.25 + 93.00 + 165.00 less the deposit; at the
// end 4 309.20 less both. The three invoices together bill what one would.
func TestADepositAProgressClaimAndTheRest(t *testing.T) {
	f := sceneOf(t, 24.8).quoted(t, 1, today).agreed(1, today)
	deposit, err := DepositDraft(f, money.MustFactor("20"))
	if err != nil {
		t.Fatal(err)
	}
	sameText(t, "deposit", []string{deposit.Called(), deposit.NetTotal.Shown(), deposit.TaxTotal.Shown(), deposit.Total.Shown()}, "Tax invoice, deposit", "883.76", "88.38", "972.14")
	f = f.issuedNow(deposit)
	if StageOf(f) != Agreed {
		t.Errorf("with a deposit the job is %s", StageOf(f))
	}
	claim, err := ClaimDraft(f.logged(10), doneOf(f, "1"))
	if err != nil {
		t.Fatal(err)
	}
	sameText(t, "claim", nets(claim), "380.00", "475.60", "1,050.00", "227.25", "93.00", "165.00", "−883.76")
	f = f.issuedNow(claim)
	rest, err := InvoiceDraft(f.logged(24))
	if err != nil {
		t.Fatal(err)
	}
	sameText(t, "rest", nets(rest), "380.00", "475.60", "2,520.00", "545.40", "223.20", "165.00", "−883.76", "−1,507.09")
	f = f.issuedNow(rest)
	if sum := deposit.NetTotal + claim.NetTotal + rest.NetTotal; sum.Shown() != "4,309.20" || f.BilledInAll() != deposit.Total+claim.Total+rest.Total || StageOf(f.logged(24)) != Billed {
		t.Errorf("billed %s in all, the job is %s", sum.Shown(), StageOf(f.logged(24)))
	}
	if _, err := ClaimDraft(f.logged(24), doneOf(f, "1")); fault.KindOf(err) != fault.Clash || !strings.Contains(err.Error(), "billed this job already") {
		t.Errorf("a claim after the last invoice: %v", err)
	}
}

// Whatever is billed in between, all invoices come to what one would without tax, and each
// adds up.
func TestInvoicesInPartsBillWhatOneWould(t *testing.T) {
	begun := sceneOf(t, 24.8).quoted(t, 1, today).agreed(1, today)
	rapid.Check(t, func(t *rapid.T) {
		f, sum := begun, money.Cents(0)
		issue := func(p bill.Paper, err error) {
			if fault.KindOf(err) == fault.Clash {
				return // it would have come to nothing or less
			}
			if err != nil || p.AddsUp() != nil || p.Total <= 0 || !p.Takes(f.Papers) {
				t.Fatalf("%v, %v, %s", err, p.AddsUp(), p.Total)
			}
			f, sum = f.issuedNow(p), sum+p.NetTotal
		}
		if rapid.Bool().Draw(t, "deposit") {
			issue(DepositDraft(f, money.FactorOf(rapid.Float64Range(0.01, 60).Draw(t, "percent"), 2)))
		}
		km := 0.0
		for range rapid.IntRange(0, 3).Draw(t, "claims") {
			km += rapid.Float64Range(0, 7).Draw(t, "km")
			issue(ClaimDraft(f.logged(km), doneOf(f, rapid.SampledFrom([]string{"0", "0.5", "1"}).Draw(t, "done"))))
		}
		last, err := InvoiceDraft(f.logged(24))
		if fault.KindOf(err) == fault.Clash {
			return
		}
		issue(last, err)
		if sum.Shown() != "4,309.20" {
			t.Fatalf("%d invoices come to %s without tax", len(f.Invoices()), sum.Shown())
		}
	})
}

func TestAPartThatCannotBeBilledSaysWhy(t *testing.T) {
	f := sceneOf(t, 24.8).quoted(t, 1, today).agreed(1, today)
	for _, percent := range []string{"0", "-5", "100.01"} {
		if _, err := DepositDraft(f, money.MustFactor(percent)); fault.Fields(err)["percent"] == "" {
			t.Errorf("%s %%: %v", percent, err)
		}
	}
	over := doneOf(f, "1.5")
	if _, err := ClaimDraft(f.logged(10), over); fault.Fields(err)["done[0]"] == "" {
		t.Errorf("more than agreed: %v", err)
	}
	whole, err := DepositDraft(f, money.Whole(100))
	if err != nil {
		t.Fatal(err)
	}
	f = f.issuedNow(whole)
	if _, err := InvoiceDraft(f.logged(24)); fault.KindOf(err) != fault.Clash || !strings.Contains(err.Error(), "120.58 less than was billed before") {
		t.Errorf("less sown than paid for: %v", err)
	}
	if _, err := DepositDraft(f, money.Whole(10)); fault.KindOf(err) != fault.Clash {
		t.Errorf("a second deposit: %v", err)
	}
}
