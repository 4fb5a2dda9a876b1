package paper_test

import (
	"testing"

	"rowtally/internal/bill"
)

func TestAdjustmentNoteSaysWhatItMust(t *testing.T) {
	p := adjustment()
	pdf, err := press(t).Adjustment(p)
	holds(t, textOf(t, printed(t, pdf, err)), "Adjustment note", "A2026-0001", "date of issue 20 Jul 2026",
		"ABN 51 824 753 556", "Brackwater Flat", "T2026-0007 of 29 Jun 2026", p.Reason,
		"Decrease in the price of the invoice: $109.62 ex GST, $10.96 of GST, $120.58 incl. GST.",
		"as corrected, 84.00 less", "2,604.00", "2,520.00", "difference in GST", "−10.96", "Decrease incl. GST", "$120.58")
}

func TestAnAdjustmentUpSaysSo(t *testing.T) {
	p := invoice()
	note := adjustment()
	if err := bill.StandingOf(p, nil).Correct(&note, totalled(p, sowingLines("24.8")...).Lines); err != nil {
		t.Fatal(err)
	}
	pdf, err := press(t).Adjustment(note)
	holds(t, textOf(t, printed(t, pdf, err)), "Increase in the price", "Increase incl. GST", "$120.58")
}
