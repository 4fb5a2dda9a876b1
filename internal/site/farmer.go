package site

import (
	"context"
	"fmt"

	"rowtally/internal/bill"
	"rowtally/internal/job"
)

// farmerBooks is what the farmer's page asks of the store.
type farmerBooks interface {
	FarmByToken(ctx context.Context, token string) (job.Farm, error)
	AcceptQuote(ctx context.Context, act job.Act, yes bill.Acceptance, claims []job.Held) error
}

func (s *site) farmerRoutes() []route {
	return []route{
		{method: get, path: "/farm/:token", open: anyone, answer: s.farmerShow},
		{method: get, path: "/farm/:token/jobs/:id", open: anyone, answer: s.farmerJob},
		{method: post, path: "/farm/:token/jobs/:id/yes", open: anyone, answer: s.farmerYes},
		{method: get, path: "/farm/:token/jobs/:id/yes", open: anyone, answer: s.farmerJob}, // where a reload of a refused yes leads
		{method: get, path: "/farm/:token/account", open: anyone, answer: s.farmerStatement},
		{method: get, path: "/farm/:token/account.pdf", open: anyone, answer: s.farmerStatementPDF},
		{method: get, path: "/farm/:token/papers/:id/pdf", open: anyone, answer: s.farmerPDF},
	}
}

type farmerPage struct {
	Frame
	Token string
	Farm  job.Farm
	Jobs  []job.FarmerView
}

// farmerShow lists the farm's jobs; a single one opens at once.
func (s *site) farmerShow(r *request) error {
	farm, err := s.Books.FarmByToken(r.Context(), r.Params("token"))
	if err != nil {
		return err
	}
	all, err := s.farmerFacts(r, farm.ID)
	if err != nil {
		return err
	}
	page := farmerPage{Frame: r.farmerFrame(farm.Name), Token: r.Params("token"), Farm: farm}
	for _, f := range all {
		page.Jobs = append(page.Jobs, job.ViewOf(f))
	}
	if len(page.Jobs) == 1 {
		return r.see(fmt.Sprintf("/farm/%s/jobs/%d", page.Token, page.Jobs[0].Job.ID))
	}
	return r.show("farmer", page)
}

// farmerFacts reads the farm's jobs for which a paper was issued: before that there is
// nothing for the farmer to check.
func (s *site) farmerFacts(r *request, farmID int64) ([]job.Facts, error) {
	all, err := s.factsWhere(r, func(j job.Job) bool { return j.FarmID == farmID })
	if err != nil {
		return nil, err
	}
	var own []job.Facts
	for _, f := range all {
		if len(f.Papers) > 0 {
			own = append(own, f)
		}
	}
	return own, nil
}

type farmerJobPage struct {
	Frame
	Token string
	job.FarmerView
	Sketch  *sketch
	Name    Field
	Which   *Field // the alternative that the yes names; nil where there is one alone
	Options []optionGroup
	Varied  []variationAsked
	Wrong   string
	Paced   *pacedCheck // nil while no row is sown

	Record  bool     // the invoice rests on a sown record, kept with it
	Pick    *rowPick // nil while no rows are laid
	Threads []threadView
	Ask     []Field
	Asking  bool // the form of a new question has something to change
}

func (s *site) farmerJob(r *request) error {
	_, facts, err := s.farmerOf(r)
	if err != nil {
		return err
	}
	return s.showFarmerJob(r, facts, blank(nil))
}

func (s *site) showFarmerJob(r *request, facts job.Facts, f *form) error {
	view := job.ViewOf(facts)
	page := farmerJobPage{Frame: r.farmerFrame(facts.Job.Name + ", " + facts.Farm.Name), Token: r.Params("token"), FarmerView: view}
	picked, counted := readPick(r), readPaced(r)
	page.Pick = pickOf(picked, facts)
	if view.Map != nil {
		page.Sketch = sketchOf(*view.Map, acrossPage)
		page.Sketch.pick(*view.Map, page.Pick)
	}
	var err error
	if page.Paced, err = pacedOf(counted, facts); err != nil {
		return err
	}
	if view.Invoice != nil {
		if page.Record, err = s.restsOnRecord(r, view.Invoice.ID); err != nil {
			return err
		}
	}
	page.addForms(facts, f)
	if !f.ok() || !counted.ok() || !picked.ok() {
		r.Status(422)
	}
	return r.show("farmer_job", page)
}

// addForms draws what a farmer may write: the yes, and questions.
func (p *farmerJobPage) addForms(facts job.Facts, f *form) {
	signed := ""
	if p.Yes != nil {
		signed = p.Yes.Name
	}
	offered(f, facts, p.Pick.row(), signed)
	p.Name = f.field(Field{Name: "name", Label: "Your name", Required: true})
	p.Which, p.Options = whichField(f, p.FarmerView), optionGroups(f, p.FarmerView)
	for _, v := range p.Variations {
		p.Varied = append(p.Varied, variationAsked{v, f.field(Field{Name: nameField(v.ID), Label: "Your name, for " + v.Number, Required: true})})
	}
	p.Threads = threadsOf(facts, f, farmerFields)
	p.Ask = f.fields(askFields(facts)...)
	for _, field := range p.Ask {
		p.Asking = p.Asking || field.Error != ""
	}
	p.Wrong = f.head()
}

func (s *site) farmerPDF(r *request) error {
	farm, err := s.Books.FarmByToken(r.Context(), r.Params("token"))
	if err != nil {
		return err
	}
	paper, err := s.paperOf(r)
	if err != nil {
		return err
	}
	owner, err := s.Books.Job(r.Context(), paper.JobID)
	if err != nil {
		return err
	}
	if owner.FarmID != farm.ID {
		return noPage()
	}
	return s.sendPaper(r, paper)
}

// farmerOf finds the farm of the link and one of its own jobs that has a paper.
func (s *site) farmerOf(r *request) (job.Farm, job.Facts, error) {
	farm, err := s.Books.FarmByToken(r.Context(), r.Params("token"))
	if err != nil {
		return farm, job.Facts{}, err
	}
	id, err := r.id("id")
	if err != nil {
		return farm, job.Facts{}, err
	}
	facts, err := s.facts(r, id)
	if err != nil {
		return farm, facts, err
	}
	if facts.Farm.ID != farm.ID || len(facts.Papers) == 0 {
		return farm, facts, noPage()
	}
	return farm, facts, nil
}

// farmerFrame is the frame without the top bar's words: the farmer has no account.
func (r *request) farmerFrame(title string) Frame {
	frame := r.frame("", title)
	frame.Person, frame.Role, frame.CSRF = "", "", ""
	return frame
}
