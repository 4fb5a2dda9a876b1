package paper_test

import (
	"strings"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/job"
)

// visitSheet is an invented sheet with everything known that can be.
func visitSheet() job.VisitSheet {
	s := job.VisitSheetOf(job.Facts{Today: "2026-07-20", Business: job.Business{Name: "Example Rows"}, Farm: job.Farm{Name: "Example Farm"},
		Job:     job.Job{Code: "J-05", Name: "Gate 4", Season: 2026, WindowFrom: "2026-07-14", WindowTo: "2026-08-10"},
		Paddock: job.Paddock{Name: "Gate 4"}})
	s.GrossM2, s.Plant = 462_000, []string{"tractor", "twin-row mounder-seeder", "", "", ""}
	usual := job.UsualTerms()
	s.Terms = []bill.Particular{{Heading: "You see to", Text: usual.Access}, {Heading: "Clean-down", Text: usual.CleanDown}}
	s.TermsOf = "as agreed with Q2026-0005 on 2 Jul 2026"
	s.Known = "ECe 9.4 dS/m at 25–50 cm, Mar 2026; winter watertable 0.6 m, Aug 2025"
	return s
}

func TestTheVisitSheetIsOnePageWithWhatIsKnownAndLinesForTheRest(t *testing.T) {
	pdf, err := press(t).Visit(visitSheet())
	text := textOf(t, printed(t, pdf, err))
	holds(t, text, "Visit sheet", "J-05", "printed 20 Jul 2026", "Gate 4, Example Farm", "season 2026 · 46.2 ha gross · Between 14 Jul 2026 and 10 Aug 2026",
		"time in", "time out", "people", "property identification code", "check-in with, by when",
		"last property before", "before coming: where, how, by", "before leaving: where, how, by", "tractor", "twin-row mounder-seeder",
		"stock out of the paddock", "Machines come clean", "as agreed with Q2026-0005 on 2 Jul 2026", "owner's conditions",
		"Known so far: ECe 9.4 dS/m at 25–50 cm, Mar 2026; winter watertable 0.6 m, Aug 2025.",
		"salt, with its unit", "watertable, m below the surface", "texture", "weeds", "mites", "drains", "fences", "access",
		"Before the float leaves", "knockdown", "stock out", "mounds settled", "contractor, date", "for the farm, date", "page 1 of 1")
	holds(t, run(t, pdf, "pdftotext", "-raw", "PAPER", "-"), visitSheet().Cautions...)
}

// A sheet of a job of which nothing is known prints too, and long terms run on to a second
// page and lose nothing.
func TestAVisitSheetOfLittleAndOfMuch(t *testing.T) {
	pdf, err := press(t).Visit(job.VisitSheet{})
	text := textOf(t, printed(t, pdf, err))
	holds(t, text, "time in", "page 1 of 1")
	lacks(t, text, "ha gross", "Known so far", "Terms")
	s := visitSheet()
	s.Terms[0].Text = strings.Repeat("the lane gate is shut behind every float, ", 40) + "to the end"
	s.Plant[0] = "a tractor with a name far longer than its column, which still stays inside its own lines"
	pdf, err = press(t).Visit(s)
	text = textOf(t, printed(t, pdf, err))
	holds(t, text, "to the end", "page 2 of 2", "for the farm, date")
	words(t, pdf)
}
