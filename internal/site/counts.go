package site

import (
	"context"
	"crypto/rand"
	"fmt"
	"math/big"
	"strconv"

	"rowtally/internal/count"
	"rowtally/internal/ground"
	"rowtally/internal/job"
	"rowtally/internal/working"
)

// countBooks is what the counts ask of the store.
type countBooks interface {
	AddCountPlan(ctx context.Context, act job.Act, p count.Plan) (int64, error)
	AddCount(ctx context.Context, act job.Act, c count.Count) (int64, error)
	WithdrawCount(ctx context.Context, act job.Act, id int64, why string) error
	JobsCounted(ctx context.Context) ([]int64, error)
}

func (s *site) countRoutes() []route {
	return []route{
		field(get, "/jobs/:id/counts", s.counts),
		office(post, "/jobs/:id/counts", s.counts),
		field(get, "/jobs/:id/counts/new", s.countNew),
		field(post, "/jobs/:id/counts/new", s.countNew),
		field(get, "/jobs/:id/count-sheet.pdf", s.countSheet),
		office(get, "/jobs/:id/counts/:count/withdraw", s.countWithdraw),
		office(post, "/jobs/:id/counts/:count/withdraw", s.countWithdraw),
	}
}

type countsPage struct {
	Frame
	Job       job.Job
	Counts    []job.CountFigures // newest first
	Withdrawn []count.Count
	Plan      *count.Plan     // nil while no places are drawn
	Ends      []ground.LatLon // of its stretches, in their order
	Size      working.Steps
	Sketch    *sketch
	How       []string
	Cautions  []string
	Fields    []Field
	Head      string
	Draws     bool // the person may draw places
}

// counts shows what was counted and where, and draws the places.
func (s *site) counts(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	f := blank(countWantedTyped(facts))
	if r.isPost() {
		f = readForm(r)
		if err := s.drawPlaces(r, f, facts); err != nil {
			return err
		}
		if f.ok() {
			return r.see(jobPath(facts.Job.ID) + "/counts?done=drawn#places")
		}
		r.Status(422)
	}
	page := countsPage{Frame: r.frame(r.atWork(), "Counts of "+facts.Job.Name), Job: facts.Job, Cautions: job.CountCautions(),
		Draws: r.person.Role == job.Contractor && facts.Sown != nil}
	page.addCounts(facts)
	page.addPlan(facts)
	page.Fields = f.fields(countWantedFields()...)
	page.Head = f.head()
	return r.show("counts", page)
}

func (p *countsPage) addCounts(facts job.Facts) {
	for _, c := range facts.Counted() {
		p.Counts = append([]job.CountFigures{c}, p.Counts...)
	}
	for _, c := range facts.Counts {
		if !c.Standing() {
			p.Withdrawn = append(p.Withdrawn, c)
		}
	}
}

func (p *countsPage) addPlan(facts job.Facts) {
	plan, planned := facts.CountPlan()
	if !planned {
		return
	}
	p.Plan, p.How = &plan, job.HowToCount(plan)
	if m := facts.MapOfCounts(plan); m != nil {
		p.Sketch = sketchOf(*m, acrossPage)
	}
	if sheet, err := job.CountSheetOf(facts); err == nil {
		p.Ends = sheet.Ends
	}
	if size, err := wantedOf(plan).Size(); err == nil {
		p.Size = size.Working()
	}
}

// wantedOf is what a plan was drawn for.
func wantedOf(p count.Plan) job.CountWanted {
	return job.CountWanted{PerStretch: p.PerStretch, SharePercent: p.SharePercent, WithinPercent: p.WithinPercent, Rho: p.Rho}
}

// countWantedTyped is what the form begins with: the plan's own, or our own guesses, with
// what the job's counts tell of neighbours that fail together.
func countWantedTyped(facts job.Facts) map[string]string {
	wanted := job.CountWanted{PerStretch: 10, SharePercent: 50, WithinPercent: 10, Rho: count.GuessedRho}
	if plan, planned := facts.CountPlan(); planned {
		wanted = wantedOf(plan)
	}
	if own, ok := facts.OwnRho(); ok {
		wanted.Rho = own
	}
	return map[string]string{"per_stretch": strconv.Itoa(wanted.PerStretch), "share_percent": short(wanted.SharePercent),
		"within_percent": short(wanted.WithinPercent), "rho": strconv.FormatFloat(wanted.Rho, 'f', 2, 64)}
}

func countWantedFields() []Field {
	return []Field{
		{Name: "share_percent", Label: "Placements occupied, as you expect", Unit: "%", Kind: "number", Required: true, Hint: "50 is the safe side: it takes the most places."},
		{Name: "within_percent", Label: "To be known to within", Unit: "points either side", Kind: "number", Required: true, Hint: "19 times in 20."},
		{Name: "per_stretch", Label: "Placements in a stretch", Kind: "number", Inputmode: "numeric", Required: true, Hint: "Many short stretches say more than few long ones."},
		{Name: "rho", Label: "Neighbours failing together", Kind: "number", Required: true, Hint: "0 for not at all, 1 for wholly. 0.1 is our own guess; your counts replace it."},
	}
}

// drawPlaces draws the places with a number of the machine's own choice, so that nobody picks
// them.
func (s *site) drawPlaces(r *request, f *form, facts job.Facts) error {
	wanted := job.CountWanted{SharePercent: f.number("share_percent", 0.1, 99.9), WithinPercent: f.number("within_percent", 0.5, 50),
		PerStretch: f.integer("per_stretch", 1, 200), Rho: f.number("rho", 0, 1)}
	if !f.ok() {
		return nil
	}
	number, err := rand.Int(rand.Reader, big.NewInt(1_000_000))
	if err != nil {
		return fmt.Errorf("draw a number: %w", err)
	}
	plan, err := facts.DrawCountPlan(wanted, number.Int64())
	if err := f.take(err); err != nil || !f.ok() {
		return err
	}
	_, err = s.Books.AddCountPlan(r.Context(), r.act(), plan)
	return f.take(err)
}

// countSheet prints the sheet that is taken to the paddock.
func (s *site) countSheet(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	sheet, err := job.CountSheetOf(facts)
	if err != nil {
		return err
	}
	pdf, err := s.Press.CountSheet(sheet)
	if err != nil {
		return fmt.Errorf("print the count sheet of %s: %w", facts.Job.Code, err)
	}
	return r.sendPDF(facts.Job.Code+"-counts.pdf", pdf)
}

func (s *site) countWithdraw(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	id, err := r.id("count")
	if err != nil {
		return err
	}
	var found *job.CountFigures
	for _, c := range facts.Counted() {
		if c.ID == id {
			found = &c
		}
	}
	if found == nil {
		return noPage()
	}
	back := jobPath(facts.Job.ID) + "/counts"
	f := blank(nil)
	if r.isPost() {
		f = readForm(r)
		why := f.must("why", "Say what was wrong with it, as it should be read next year.")
		if f.ok() {
			if err := s.Books.WithdrawCount(r.Context(), r.act(), id, why); err == nil {
				return r.see(back + "?done=kept")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("jobs", "Withdraw a count of "+facts.Job.Name), Button: "Withdraw the count", Back: back,
		Lead:   found.Says() + " It no longer counts, and stays on the page with the reason.",
		Groups: []group{{Fields: []Field{{Name: "why", Label: "What was wrong with it", Kind: "textarea", Required: true}}}},
	})
}
