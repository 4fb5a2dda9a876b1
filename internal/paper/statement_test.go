package paper_test

import "testing"

func TestStatementSaysWhatItMust(t *testing.T) {
	pdf, err := press(t).Statement(statement())
	holds(t, textOf(t, printed(t, pdf, err)), "Statement", "1 Feb 2026 to 31 Jul 2026", "This statement is not a tax invoice.", "opening balance",
		"tax invoice T2026-0003, due 16 Mar 2026", "adjustment note A2026-0001", "−120.58", "payment, transfer", "−1,000.00", "closing balance", "4,940.12",
		"not yet due", "1–30 days past", "over 90 days past", "300.00", "4,740.12", "credit", "100.00")
}
