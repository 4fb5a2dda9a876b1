package site

import (
	"strings"

	"rowtally/internal/job"
	"rowtally/internal/seed"
	"rowtally/internal/working"
)

// lotPage is everything of one lot.
type lotPage struct {
	Frame
	job.LotStanding
	CostPerKg, TreatmentPerKg, ThousandLive string

	Tests      []testLine // newest first
	Agreements []job.AgreementLine
	Line       *testChart // nil without a readable test
	Decline    seed.Decline
	Foreseen   working.Steps // for the next sowing, or today
	Sowings    []sowing      // of jobs still to be sown
	Stores     []seed.StorageCondition
	Documents  []seed.Document
	Sources    []poured // the lots that it came from
	Onward     []poured // the lots that it went into
	Unit       string
	Claims     []claimLine
	Movements  []movementLine // newest first
	Head       string
	Reason     Field // why to hold it
}

// testLine is one germination test with what it says.
type testLine struct {
	seed.Test
	seed.Germination
	Judged   string // how its replicates agree
	Readable bool
	Counts   bool   // today
	Why      string // it counts or not
	Found    string // what the counts are of
	Classes  bool   // seedlings were told apart
	About    string // kind, certificate, where it was copied from; "" for a plain germination test
}

// sowing is a job that sows the lot, with what is foreseen for its day.
type sowing struct {
	Job      job.Job
	Foreseen seed.Foreseen
	Known    bool
}

// poured is a lot at the other end of a split or blend.
type poured struct {
	Lot          seed.Lot
	Grams        int64
	SharePercent float64 // of the blend; 0 for what went onward
}

// claimLine is what one job holds back of a lot or medium.
type claimLine struct {
	job.Held
	Job job.Job
}

func (s *site) lotShow(r *request) error { return s.drawLot(r, blank(nil)) }

// drawLot shows a lot, with the hold form as it begins or as it came back.
func (s *site) drawLot(r *request, f *form) error {
	lot, err := named(r, s.Books.Lot)
	if err != nil {
		return err
	}
	shelf, err := s.Books.Shelf(r.Context())
	if err != nil {
		return err
	}
	page := lotPage{Frame: r.frame("shed", lot.Code+" "+lot.CommonName), Unit: "kg"}
	page.LotStanding = job.LotStanding{LotFigures: shelf.LotOn(lot, r.today()), Standing: shelf.Standing(job.LotStock, lot.ID)}
	page.CostPerKg, page.TreatmentPerKg, page.ThousandLive = r.business.Price(lot.CostPerKg, 2), r.business.Price(lot.TreatmentPerKg, 2), r.business.Price(page.CostPerThousandLive, 3)
	page.Tests = testLines(page.LotFigures, shelf.Tests[lot.ID])
	page.Agreements = job.Agreements(shelf.Tests[lot.ID])
	if err := s.addLife(r, &page, shelf); err != nil {
		return err
	}
	if err := s.addPapers(r, &page, shelf); err != nil {
		return err
	}
	if page.Claims, page.Movements, err = s.stockLines(r, job.LotStock, lot.ID, shelf); err != nil {
		return err
	}
	page.Reason = f.field(Field{Name: "reason", Label: "Hold it, because", Required: true, Hint: "Nothing can be mixed from a lot on hold."})
	page.Head = f.head()
	if !f.ok() {
		r.Status(422)
	}
	return r.show("lot", page)
}

// addLife works out what is foreseen of the lot, and draws it.
func (s *site) addLife(r *request, page *lotPage, shelf job.Shelf) error {
	page.Decline, page.Stores = shelf.Decline(page.Lot, r.today()), shelf.Conditions[page.Lot.ID]
	users, err := s.Books.JobsWithLot(r.Context(), page.Lot.ID)
	if err != nil {
		return err
	}
	next := r.today()
	for _, j := range users {
		if j.WindowFrom < r.today() || j.DeclinedOn != "" {
			continue
		}
		sown := sowing{Job: j}
		sown.Foreseen, sown.Known = page.Decline.On(j.WindowFrom)
		page.Sowings = append(page.Sowings, sown)
	}
	if len(page.Sowings) > 0 {
		next = page.Sowings[0].Job.WindowFrom
	}
	page.Foreseen = page.Decline.Working(next)
	page.Line = chartLife(lotLife{page.LotFigures, page.Decline, page.Tests, page.Sowings})
	return nil
}

// addPapers reads the lot's documents, and the lots that it came from and went into.
func (s *site) addPapers(r *request, page *lotPage, shelf job.Shelf) (err error) {
	if page.Documents, err = s.Books.Documents(r.Context(), page.Lot.ID); err != nil {
		return err
	}
	for i := range page.Documents {
		page.Documents[i].AddedAt = inZone(page.Documents[i].AddedAt, r.business.Zone)
	}
	all, err := s.Books.LotSources(r.Context(), 0)
	var own []seed.Source
	for _, source := range all {
		if source.LotID == page.Lot.ID {
			own = append(own, source)
		} else if source.SourceID == page.Lot.ID {
			other, _ := shelf.Lot(source.LotID)
			page.Onward = append(page.Onward, poured{Lot: other, Grams: source.Grams})
		}
	}
	for _, source := range own {
		other, _ := shelf.Lot(source.SourceID)
		page.Sources = append(page.Sources, poured{other, source.Grams, 100 * seed.ShareFraction(source, own)})
	}
	return err
}

func testLines(figures job.LotFigures, tests []seed.Test) []testLine {
	lines := make([]testLine, 0, len(tests))
	for i := len(tests) - 1; i >= 0; i-- {
		t := tests[i]
		line := testLine{Test: t, Counts: figures.Tested && t.ID == figures.Test.ID, Why: figures.Counting(t)}
		line.Germination, line.Readable = job.GerminationOf(t)
		line.Judged = job.Judged(line.Germination)
		line.Found, line.Classes, line.About = foundBy(t), t.IsA(seed.GerminationTest), aboutTest(t)
		lines = append(lines, line)
	}
	return lines
}

// foundBy is what the good seeds of a test are.
func foundBy(t seed.Test) string {
	switch {
	case t.IsA(seed.Tetrazolium):
		return "Viable"
	case t.IsA(seed.CutTest):
		return "Filled and sound"
	}
	return "Germination"
}

// aboutTest says what is special about a test.
func aboutTest(t seed.Test) string {
	var about []string
	switch {
	case t.IsA(seed.Tetrazolium):
		about = append(about, "tetrazolium test: seeds stained viable, dormant ones too")
	case t.IsA(seed.CutTest):
		about = append(about, "cut test")
	}
	switch t.Certificate {
	case seed.LotCertificate:
		about = append(about, "certificate of the lot, sampled and sealed by the laboratory")
	case seed.SampleCertificate:
		about = append(about, "certificate of a sample, which does not speak for the whole lot")
	}
	if t.CopiedFrom != 0 {
		about = append(about, "copied from the lot that this one was split from")
	}
	if len(about) == 0 {
		return ""
	}
	return sentence(strings.Join(about, "; "))
}
