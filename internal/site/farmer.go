package site

import (
	"context"
	"fmt"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
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
	Options []Field // optional lines that the yes may name
	Wrong   string
	Paced   *pacedCheck // nil while no row is sown

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
	p.Options = optionFields(f, p.FarmerView)
	p.Threads = threadsOf(facts, f, farmerFields)
	p.Ask = f.fields(askFields(facts)...)
	for _, field := range p.Ask {
		p.Asking = p.Asking || field.Error != ""
	}
	p.Wrong = f.head()
}

// farmerYes keeps the farmer's yes to the quote shown, and holds the stock back.
func (s *site) farmerYes(r *request) error {
	farm, facts, err := s.farmerOf(r)
	if err != nil {
		return err
	}
	f := readForm(r)
	name := f.must("name", "Type your name: it stands under the yes.")
	quote, quoted := facts.Quote()
	if !quoted {
		return noPage()
	}
	if f.typed["quote"] != fmt.Sprint(quote.ID) {
		f.refuse("", "The quote has a newer revision, %s. It is shown below: read it before you say yes.", quote.Number)
	}
	if f.ok() {
		claims, err := job.Claims(facts)
		if err != nil && fault.KindOf(err) == fault.Internal {
			return err
		} // a mix that cannot be worked out holds nothing back: that is the contractor's to mend, not the farmer's
		act := r.farmerAct(farm, name)
		yes := bill.Acceptance{PaperID: quote.ID, Name: name, AcceptedAt: r.now, Address: r.IP(), Options: optionsFrom(f, quote)}
		if err := s.Books.AcceptQuote(r.Context(), act, yes, claims); err == nil {
			return r.see(fmt.Sprintf("/farm/%s/jobs/%d?done=agreed", r.Params("token"), facts.Job.ID))
		} else if err := f.take(err); err != nil {
			return err
		}
	}
	return s.showFarmerJob(r, facts, f)
}

// optionFields are the optional lines of a quote that waits for its yes.
func optionFields(f *form, view job.FarmerView) (fields []Field) {
	if view.Quote == nil || !view.CanSay {
		return nil
	}
	for _, l := range view.Quote.Options() {
		fields = append(fields, f.field(Field{Name: optionField(l), Kind: "tick",
			Label: fmt.Sprintf("%s, %s more%s", l.Description, view.Seller.Money(l.Net), exTax(*view.Quote))}))
	}
	return fields
}

func optionField(l bill.PaperLine) string { return fmt.Sprintf("option_%d", l.Position) }

// exTax stands behind the amount of a line.
func exTax(p bill.Paper) string {
	switch {
	case !p.Registered:
		return ""
	case p.Inclusive:
		return " incl. " + p.TaxLabel
	}
	return " ex " + p.TaxLabel
}

// optionsFrom are the optional lines that are ticked.
func optionsFrom(f *form, quote bill.Paper) (options bill.Positions) {
	for _, l := range quote.Options() {
		if f.typed[optionField(l)] != "" {
			options = append(options, l.Position)
		}
	}
	return options
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
