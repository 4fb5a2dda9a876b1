package site

import (
	"rowtally/internal/job"
	"rowtally/internal/seed"
)

// lotPage is everything of one lot.
type lotPage struct {
	Frame
	job.LotStanding
	CostPerKg, ThousandLive string

	Tests     []testLine // newest first
	Line      *testChart // nil without a readable test
	Unit      string
	Claims    []claimLine
	Movements []movementLine // newest first
	Head      string
	Reason    Field // why to hold it
}

// testLine is one germination test with what it says.
type testLine struct {
	seed.Test
	seed.Germination
	Judged   string // how its replicates agree
	Readable bool
	Counts   bool   // today
	Why      string // it counts or not
}

// claimLine is what one job holds back of a lot or medium.
type claimLine struct {
	job.Held
	Job job.Job
}

func (s *site) lotShow(r *request) error { return s.drawLot(r, blank(nil)) }

// drawLot shows a lot, with the hold form as it begins or as it came back.
func (s *site) drawLot(r *request, f *form) error {
	id, err := r.id("id")
	if err != nil {
		return err
	}
	lot, err := s.Books.Lot(r.Context(), id)
	if err != nil {
		return err
	}
	shelf, err := s.Books.Shelf(r.Context())
	if err != nil {
		return err
	}
	page := lotPage{Frame: r.frame("shed", lot.Code+" "+lot.CommonName), Unit: "kg"}
	page.LotStanding = job.LotStanding{LotFigures: job.LotToday(lot, shelf.Tests[id], r.today()), Standing: shelf.Standing(job.LotStock, id)}
	page.CostPerKg, page.ThousandLive = r.business.Price(lot.CostPerKg, 2), r.business.Price(page.CostPerThousandLive, 3)
	page.Tests = testLines(page.LotFigures, shelf.Tests[id])
	page.Line = chartTests(page.LotFigures, page.Tests)
	if page.Claims, page.Movements, err = s.stockLines(r, job.LotStock, id, shelf); err != nil {
		return err
	}
	page.Reason = f.field(Field{Name: "reason", Label: "Hold it, because", Required: true, Hint: "Nothing can be mixed from a lot on hold."})
	page.Head = f.head()
	if !f.ok() {
		r.Status(422)
	}
	return r.show("lot", page)
}

func testLines(figures job.LotFigures, tests []seed.Test) []testLine {
	lines := make([]testLine, 0, len(tests))
	for i := len(tests) - 1; i >= 0; i-- {
		t := tests[i]
		line := testLine{Test: t, Counts: figures.Tested && t.ID == figures.Test.ID, Why: figures.Counting(t)}
		line.Germination, line.Readable = job.GerminationOf(t)
		line.Judged = job.Judged(line.Germination)
		lines = append(lines, line)
	}
	return lines
}
