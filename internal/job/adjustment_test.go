package job

import (
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// billed is a job of 24.8 row-km billed by the plan, of which a log shows the rest.
func billed(t testing.TB, shownKm float64) Facts {
	t.Helper()
	f := sceneOf(t, 24.8).quoted(t, 1, "2026-07-01").agreed(1, "2026-07-03").logged(24.8)
	invoice, err := InvoiceDraft(f)
	if err != nil {
		t.Fatal(err)
	}
	invoice.ID, invoice.Number = 2, "T2026-0001"
	f.Papers = append(f.Papers, invoice)
	return f.logged(shownKm)
}

// issued puts an adjustment note among the papers, as the store would.
func (f Facts) issued(note bill.Paper, id int64) Facts {
	note.ID, note.Number = id, "A2026-0001"
	f.Papers = append(f.Papers[:len(f.Papers):len(f.Papers)], note)
	return f
}

// Worked by hand: 84.00 of sowing, 18.18 of seed and 7.44 of medium less, 10.96 of tax.
func TestAnAdjustmentFollowsTheLog(t *testing.T) {
	f := billed(t, 24.0)
	lines, reason := f.MeasuredLines()
	note, err := AdjustmentDraft(f, reason, lines)
	if err != nil {
		t.Fatal(err)
	}
	if note.Total != -120_58 || note.NetTotal != -109_62 || note.TaxTotal != -10_96 {
		t.Errorf("the note is over %s, %s and %s", note.NetTotal, note.TaxTotal, note.Total)
	}
	if note.AnswersID != 2 || note.AnswersNumber != "T2026-0001" || note.AnswersOn != today || note.Reason != "24.80 row-km were billed; the machine's log shows 24.00." || note.AddsUp() != nil {
		t.Errorf("the note answers %d, %s of %s: %q, %v", note.AnswersID, note.AnswersNumber, note.AnswersOn, note.Reason, note.AddsUp())
	}
	after := f.issued(note, 3)
	standing, _ := after.Standing()
	if standing.Total != 4740_12 {
		t.Errorf("the invoice stands at %s, want 4740.12", standing.Total)
	}
	if _, _, owed := after.Owed(); owed || len(ChainOf(after).Trouble) != 0 || ViewOf(after).Difference != "" {
		t.Errorf("after the note one is still owed: %q", ChainOf(after).Trouble)
	}
	if again, reason := after.MeasuredLines(); reason != "" {
		t.Errorf("%q again for %v", reason, again)
	}
}

func TestACorrectionThatCannotStandIsRefused(t *testing.T) {
	f := billed(t, 24.0)
	at := func(i int, quantity, price string) []bill.PaperLine {
		standing, _ := f.Standing()
		lines := append([]bill.PaperLine{}, standing.Lines...)
		lines[i].Quantity, lines[i].UnitPrice = money.MustFactor(quantity), money.MustFactor(price)
		return lines
	}
	for _, c := range []struct {
		what, reason, field string
		lines               []bill.PaperLine
	}{
		{"no reason", " ", "reason", at(2, "24.0", "105")},
		{"nothing changed", "why", "", at(2, "24.80", "105.00")},
		{"more rows than sown", "why", "lines[2].quantity", at(2, "24.81", "105")},
		{"below nothing", "why", "lines[0].quantity", at(0, "-1", "380")},
		{"a price below nothing", "why", "lines[0].unit_price", at(0, "1", "-380")},
		{"absurd", "why", "lines[0].unit_price", at(0, "1", "100000000001")},
	} {
		_, err := AdjustmentDraft(f, c.reason, c.lines)
		if _, named := fault.Fields(err)[c.field]; fault.KindOf(err) != fault.Refused || !named {
			t.Errorf("%s: %v, want a refusal of %q", c.what, err, c.field)
		}
	}
	if _, err := AdjustmentDraft(sceneOf(t, 24.8), "why", nil); fault.KindOf(err) != fault.Clash {
		t.Errorf("without an invoice: %v", err)
	}
}

// However often an invoice is adjusted, it and its notes come to what the invoice as last
// corrected comes to, tax included.
func TestSeveralAdjustmentsAddUp(t *testing.T) {
	start := billed(t, 24.8)
	rapid.Check(t, func(t *rapid.T) {
		f := start
		for id := int64(3); id < 7; id++ {
			standing, _ := f.Standing()
			lines := append([]bill.PaperLine{}, standing.Lines...)
			i := rapid.SampledFrom([]int{0, 1, 5}).Draw(t, "line")
			lines[i].Quantity = money.FactorOf(float64(rapid.IntRange(0, 9999).Draw(t, "quantity"))/100, 2)
			lines[i].UnitPrice = money.FactorOf(float64(rapid.IntRange(0, 99999).Draw(t, "price"))/1000, 3)
			note, err := AdjustmentDraft(f, "a slip", lines)
			if fault.KindOf(err) == fault.Refused {
				continue // the same again
			}
			if err != nil || note.AddsUp() != nil {
				t.Fatalf("%v, %v", err, note.AddsUp())
			}
			f = f.issued(note, id)
			want, err := bill.TotalsOf(lines, false)
			if err != nil {
				t.Fatal(err)
			}
			now, _ := f.Standing()
			if now.Total != want.TotalIncl || now.TaxTotal != want.TotalTax || now.NetTotal != want.TotalExcl {
				t.Fatalf("it stands at %s, and the corrected invoice comes to %s", now.Total, want.TotalIncl)
			}
		}
	})
}
