package site

import (
	"context"
	"fmt"
	"strconv"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/machine"
	"rowtally/internal/mix"
)

// truckBooks is what the truck's pages write.
type truckBooks interface {
	AddCatch(ctx context.Context, act job.Act, c mix.Catch) (int64, error)
	WithdrawCatch(ctx context.Context, act job.Act, id int64) error
	MixTub(ctx context.Context, act job.Act, tub mix.Tub) (int64, error)
	UnmixTub(ctx context.Context, act job.Act, id int64) error
	AddDaySheet(ctx context.Context, act job.Act, sheet machine.DaySheet) (int64, error)
}

func (s *site) truckRoutes() []route {
	return append(append(s.truckOutRoutes(), s.noteRoutes()...), []route{
		field(get, "/truck", s.truck),
		field(get, "/truck/:id", s.truckJob),
		field(post, "/truck/:id/tub", s.tubMixed),
		field(post, "/truck/:id/tub/undo", s.tubUndo),
		field(get, "/truck/:id/catch", s.catchTest),
		field(post, "/truck/:id/catch", s.catchTest),
		field(post, "/truck/:id/catch/undo", s.catchUndo),
		field(get, "/truck/:id/day", s.daySheet),
		field(post, "/truck/:id/day", s.daySheet),
	}...)
}

type truckPage struct {
	Frame
	Jobs     []jobLine
	Counting []jobLine // jobs with places drawn and a count to come
	Services []string  // of machines due soon, a sentence each
}

// truck lists the jobs that may be worked on today.
func (s *site) truck(r *request) error {
	all, err := s.currentFacts(r)
	if err != nil {
		return err
	}
	machines, err := s.Books.Machines(r.Context())
	if err != nil {
		return err
	}
	page := truckPage{Frame: r.frame("truck", "At the truck"), Services: job.ServicesSay(machines, r.today())}
	for _, line := range jobLines(all) {
		if line.Stage == job.Agreed || line.Stage == job.Sowing {
			page.Jobs = append(page.Jobs, line)
		}
		if line.Due != "" {
			page.Counting = append(page.Counting, line)
		}
	}
	return r.show("truck", page)
}

type truckJobPage struct {
	Frame
	Job      job.Job
	Farm     job.Farm
	Sheet    job.MixingSheet
	Next     *job.SheetTub // nil when nothing is to be mixed
	Parts    []tubPart
	Last     *mix.Tub // the last tub mixed, which may be undone
	CanCatch bool     // rows and recipe are there to judge a catch test by
	Caught   *mix.Metering
	Catch    mix.Catch
	SownM    float64
	Counting bool // places of a count are drawn
	Drills   bool // an understorey is to be sown
	LastTub  int  // number of the last tub still to be mixed
	Intended float64
	Cannot   string // why nothing can be mixed
	Refused  string // why the tub just ticked was not drawn
	Cautions []string
}

// tubPart is one thing to put in, in the order of adding.
type tubPart struct {
	Name, Code string
	Amount     string
	Unit       string
	Digits     string // how wide the figure is, for the face: "", " d4", " d5"
}

func (s *site) truckJob(r *request) error { return s.showTruck(r, "") }

func (s *site) showTruck(r *request, refused string) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	page := truckJobPage{Frame: r.frame("truck", facts.Job.Name), Job: facts.Job, Farm: facts.Farm, Refused: refused,
		CanCatch: facts.Recipe != nil && facts.Layout != nil}
	page.SownM, _ = facts.SownM()
	_, page.Counting = facts.CountPlan()
	page.Drills = facts.Understorey != nil || len(facts.DrillLoads) > 0
	if n := len(facts.Tubs); n > 0 {
		page.Last = &facts.Tubs[n-1]
	}
	if found, ok := facts.CatchFound(); ok {
		page.Caught, page.Intended = &found, facts.Recipe.PlacementML
		page.Catch, _ = facts.Catch()
	}
	sheet, err := job.MixingSheetOf(facts)
	switch {
	case err == nil:
		page.Sheet, page.Next, page.Parts, page.Cautions = sheet, &sheet.Tubs[0], partsOf(sheet), sheet.Cautions
		page.LastTub = sheet.Mixed + len(sheet.Tubs)
	case fault.KindOf(err) == fault.Internal:
		return err
	default:
		page.Sheet, page.Cannot = sheet, sentence(err.Error())
	}
	if refused != "" {
		r.Status(409)
	}
	if refused == page.Cannot {
		page.Refused = "" // it is said already
	}
	return r.show("truck_job", page)
}

// partsOf is the next tub in the order of adding: the seed, then medium up to the line.
func partsOf(sheet job.MixingSheet) []tubPart {
	tub := sheet.Tubs[0]
	var parts []tubPart
	for i, lot := range sheet.Lots {
		parts = append(parts, tubPart{lot.Name, lot.Code, grouped(tub.Grams[i], 0), "g", digits(tub.Grams[i])})
	}
	return append(parts, tubPart{"in all: add " + sheet.Medium + " up to the line", "", grouped(tub.MixL, 1), "L", digits(tub.MixL * 10)})
}

// digits tells the face how many figures a weight has, beyond three.
func digits(v float64) string {
	if n := len(strconv.Itoa(int(v))); n > 3 {
		return fmt.Sprintf(" d%d", min(n, 5))
	}
	return ""
}

// tubMixed keeps the tub as mixed, which draws its stock. A page that names another tub
// than the next is out of date, and nothing is drawn. What is refused is said on the page,
// and the tub stays to be mixed.
func (s *site) tubMixed(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	if next := len(facts.Tubs) + 1; r.FormValue("number") != strconv.Itoa(next) {
		return r.see(truckPath(facts.Job.ID))
	}
	if err := s.mixTub(r, facts); err != nil {
		if fault.KindOf(err) == fault.Internal {
			return err
		}
		return s.showTruck(r, sentence(err.Error()))
	}
	return r.see(truckPath(facts.Job.ID) + "?done=mixed")
}

func (s *site) mixTub(r *request, facts job.Facts) error {
	sheet, err := job.MixingSheetOf(facts)
	if err != nil {
		return err
	}
	tub := job.TubOf(facts, sheet)
	tub.MixedAt, tub.PersonID = r.now, r.person.ID
	_, err = s.Books.MixTub(r.Context(), r.act(), tub)
	return err
}

// tubUndo takes the last tub back, if it is the one that the page named.
func (s *site) tubUndo(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	last := len(facts.Tubs) - 1
	if last < 0 || r.FormValue("number") != strconv.Itoa(facts.Tubs[last].Number) {
		return r.see(truckPath(facts.Job.ID))
	}
	if err := s.Books.UnmixTub(r.Context(), r.act(), facts.Tubs[last].ID); err != nil {
		return err
	}
	return r.see(truckPath(facts.Job.ID) + "?done=undone")
}

func truckPath(id int64) string { return fmt.Sprintf("/truck/%d", id) }
