package site

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"

	"github.com/gofiber/fiber/v2"

	"rowtally/internal/bill"
	"rowtally/internal/count"
	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// jobBooks is what the job pages ask of the store.
type jobBooks interface {
	factBooks
	AddJob(ctx context.Context, act job.Act, j job.Job) (int64, error)
	ChangeJob(ctx context.Context, act job.Act, j job.Job) error
	Decline(ctx context.Context, act job.Act, jobID int64, on unit.Date, why string) error
	KeepLayout(ctx context.Context, act job.Act, layout job.Layout) error
	KeepRecipe(ctx context.Context, act job.Act, recipe job.Recipe) error
	KeepRates(ctx context.Context, act job.Act, jobID int64, rates []bill.Rate) error
	ReclaimStock(ctx context.Context, act job.Act, jobID int64, claims []job.Held) error
	KeepUnderstorey(ctx context.Context, act job.Act, u job.Understorey) error
}

func (s *site) jobRoutes() []route {
	return []route{
		office(get, "/jobs", s.jobs),
		office(get, "/jobs/new", s.jobNew),
		office(post, "/jobs/new", s.jobNew),
		office(get, "/jobs/:id", s.jobShow),
		office(get, "/jobs/:id/edit", s.jobEdit),
		office(post, "/jobs/:id/edit", s.jobEdit),
		office(get, "/jobs/:id/decline", s.jobDecline),
		office(post, "/jobs/:id/decline", s.jobDecline),
		office(get, "/jobs/:id/rows", s.jobRows),
		office(post, "/jobs/:id/rows", s.jobRows),
		office(get, "/jobs/:id/rows/preview", s.rowsPreview),
		office(get, "/jobs/:id/plans", s.plans),
		office(get, "/jobs/:id/mix", s.jobMix),
		office(post, "/jobs/:id/mix", s.jobMix),
		office(get, "/jobs/:id/understorey", s.understorey),
		office(post, "/jobs/:id/understorey", s.understorey),
		office(get, "/jobs/:id/rates", s.jobRates),
		office(post, "/jobs/:id/rates", s.jobRates),
	}
}

// jobLine is one job of a list.
type jobLine struct {
	job.Job
	Farm, Paddock string
	Stage         job.Stage
	RowM          float64 // planned; 0 while rows are not laid
	GrossM2       float64
	SownM         float64
	Next          job.Next
	Queried       bool       // a question of the farmer's is open
	Due           count.Kind // count to come at places drawn; "" for none
}

type jobsPage struct {
	Frame
	Says string
	Jobs []jobLine
}

func (s *site) jobs(r *request) error {
	lines, err := s.everyJobLine(r)
	if err != nil {
		return err
	}
	return r.show("jobs", jobsPage{Frame: r.frame("jobs", "Jobs"), Says: saysOfJobs(lines), Jobs: lines})
}

// everyJobLine lists every job, newest last: those that are past by how they stand alone.
func (s *site) everyJobLine(r *request) ([]jobLine, error) {
	standing, err := s.standings(r)
	if err != nil {
		return nil, err
	}
	current, err := s.factsOfCurrent(r, standing)
	if err != nil {
		return nil, err
	}
	past, err := s.pastLines(r, standing)
	lines := append(past, jobLines(current)...)
	slices.SortFunc(lines, func(a, b jobLine) int { return cmp.Compare(a.ID, b.ID) })
	return lines, err
}

// pastLines lists the jobs that are past: their rows are those that their logs were matched to.
func (s *site) pastLines(r *request, standing []job.Facts) (lines []jobLine, err error) {
	past := slices.DeleteFunc(slices.Clone(standing), func(f job.Facts) bool { return !f.Past() })
	if len(past) == 0 {
		return nil, nil
	}
	farms, err := s.Books.Farms(r.Context())
	if err != nil {
		return nil, err
	}
	paddocks, err := s.Books.Paddocks(r.Context(), 0)
	farmOf, paddockOf, grossM2 := map[int64]job.Farm{}, map[int64]job.Paddock{}, map[int64]float64{}
	for _, farm := range farms {
		farmOf[farm.ID] = farm
	}
	for _, p := range paddocks {
		paddockOf[p.ID], grossM2[p.ID] = p, job.GrossM2(p)
	}
	for _, f := range past {
		line := lineOf(f, job.StageOf(f))
		line.Farm, line.Paddock, line.GrossM2 = farmOf[f.Job.FarmID].Name, paddockOf[f.Job.PaddockID].Name, grossM2[f.Job.PaddockID]
		if f.Sown != nil {
			line.RowM = f.Sown.PlannedM
		}
		lines = append(lines, line)
	}
	return lines, err
}

// lineOf is what a list says of any job.
func lineOf(f job.Facts, stage job.Stage) jobLine {
	line := jobLine{Job: f.Job, Stage: stage, Queried: f.Queried()}
	if f.Sown != nil {
		line.SownM = f.Sown.CoveredM
	}
	return line
}

// jobLines lists jobs of which everything is known.
func jobLines(all []job.Facts) (lines []jobLine) {
	for _, f := range all {
		chain := job.ListedChainOf(f)
		line := lineOf(f, chain.Stage)
		line.Farm, line.Paddock, line.GrossM2, line.Next, line.RowM = f.Farm.Name, f.Paddock.Name, f.GrossM2(), chain.Next, chain.RowM()
		line.Due, _ = f.DueCount()
		lines = append(lines, line)
	}
	return lines
}

// openJobs counts, by farm, the jobs that still want something.
func (s *site) openJobs(r *request) (map[int64]int, error) {
	standing, err := s.standings(r)
	open := map[int64]int{}
	for _, f := range standing {
		if job.StageOf(f).Open() {
			open[f.Job.FarmID]++
		}
	}
	return open, err
}

func saysOfJobs(lines []jobLine) string {
	open := 0
	for _, l := range lines {
		if l.Stage.Open() {
			open++
		}
	}
	switch {
	case len(lines) == 0:
		return "No job is kept yet. A job begins with a farm and one of its paddocks."
	case open == 0:
		return "Nothing is open: every job is billed or declined."
	}
	return fmt.Sprintf("%d of %d jobs still want something.", open, len(lines))
}

type jobPage struct {
	Frame
	job.Chain
	Sketch  *sketch
	Threads []threadView
	Notes   []job.TruckNote
	Wrong   string
}

func (s *site) jobShow(r *request) error {
	f, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	return s.showJob(r, f, blank(nil))
}

// showJob shows a job's chain and its questions, with what was typed as an answer.
func (s *site) showJob(r *request, facts job.Facts, f *form) error {
	chain := job.ChainOf(facts)
	page := jobPage{Frame: r.frame("jobs", facts.Job.Name+", "+facts.Farm.Name), Chain: chain, Threads: threadsOf(facts, f, answerFields)}
	page.Wrong = f.head()
	var err error
	if page.Notes, err = s.truckNotes(r, facts.Job.ID); err != nil {
		return err
	}
	if !f.ok() {
		r.Status(fiber.StatusUnprocessableEntity)
	}
	if chain.Map != nil {
		page.Sketch = sketchOf(*chain.Map, besideLink)
	}
	return r.show("job", page)
}

func jobPath(id int64) string { return "/jobs/" + strconv.FormatInt(id, 10) }
