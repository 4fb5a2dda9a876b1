package site

import (
	"context"
	"slices"
	"strings"

	"rowtally/internal/bill"
	"rowtally/internal/job"
)

// alternativeBooks is what the pages of a job's alternatives ask of the store.
type alternativeBooks interface {
	AddAlternative(ctx context.Context, act job.Act, jobID int64, nameOfA, name string) error
	KeepAlternative(ctx context.Context, act job.Act, one job.Alternative) error
	DropAlternative(ctx context.Context, act job.Act, jobID int64, letter string) error
}

func (s *site) alternativeRoutes() []route {
	const one = "/jobs/:id/alternatives/:letter"
	return []route{
		office(get, "/jobs/:id/yes", s.toldYes),
		office(post, "/jobs/:id/yes", s.toldYes),
		office(get, "/jobs/:id/alternatives", s.alternatives),
		office(post, "/jobs/:id/alternatives", s.alternativeAdd),
		office(get, one, s.alternatives), // where a reload of a refused change leads
		office(post, one, s.alternativeChange),
		office(get, one+"/rows", s.jobRows),
		office(post, one+"/rows", s.jobRows),
		office(get, one+"/mix", s.jobMix),
		office(post, one+"/mix", s.jobMix),
		office(get, one+"/rates", s.jobRates),
		office(post, one+"/rates", s.jobRates),
	}
}

func alternativesPath(id int64) string { return jobPath(id) + "/alternatives" }

// jobOrAlternative reads the facts that a page of rows, mix or rates is about: those of the
// job, or of the alternative that the path names, which must be another than the job's own.
func (s *site) jobOrAlternative(r *request) (facts job.Facts, one job.Alternative, err error) {
	if facts, err = s.jobFacts(r); err != nil || r.Params("letter") == "" {
		return facts, one, err
	}
	one, err = alternativeOf(r, facts)
	if err == nil && one.Own() {
		err = noPage()
	}
	return facts.By(one), one, err
}

// alternativeOf finds the alternative that the path names.
func alternativeOf(r *request, facts job.Facts) (job.Alternative, error) {
	one, there := facts.AlternativeOf(r.Params("letter"))
	if !there {
		return one, noPage()
	}
	return one, nil
}

// inAlternative ends the title of a page that is about an alternative.
func inAlternative(one job.Alternative) string {
	if one.Letter == "" {
		return ""
	}
	return ", alternative " + one.Titled()
}

// backFrom is where a page about a job's rows, mix or rates leads back to.
func backFrom(id int64, one job.Alternative) string {
	if one.Letter == "" {
		return jobPath(id)
	}
	return alternativesPath(id)
}

// keptAt is where a person goes on after rows, mix or rates are kept.
func keptAt(id int64, one job.Alternative, anchor string) string {
	if one.Letter == "" {
		return jobPath(id) + "?done=kept#" + anchor
	}
	return alternativesPath(id) + "?done=kept#alternative_" + one.Letter
}

// keepLayout keeps a layout with the job or with its alternative.
func (s *site) keepLayout(r *request, one job.Alternative, layout job.Layout) error {
	if one.Letter == "" {
		return s.Books.KeepLayout(r.Context(), r.act(), layout)
	}
	one.Layout = &layout
	return s.Books.KeepAlternative(r.Context(), r.act(), one)
}

// keepRates keeps rates with the job or with its alternative.
func (s *site) keepRates(r *request, id int64, one job.Alternative, rates []bill.Rate) error {
	if one.Letter == "" {
		return s.Books.KeepRates(r.Context(), r.act(), id, rates)
	}
	one.Rates = rates
	return s.Books.KeepAlternative(r.Context(), r.act(), one)
}

type alternativesPage struct {
	Frame
	Job      job.Job
	Closed   string // why none may be offered any more
	Head     string
	Compared []bill.Compared
	Each     []alternativeForm
	Add      []Field // nothing where there are as many as may be
}

// alternativeForm is one alternative as it would be offered now, with what may be changed.
type alternativeForm struct {
	job.AlternativeView
	Path   string // of its own pages
	Sketch *sketch
	Name   Field
	Again  []Field // what of it may go back to A's
}

// Titles are the letters and names of the alternatives.
func (p alternativesPage) Titles() (titles []string) {
	for _, one := range p.Each {
		titles = append(titles, one.Titled())
	}
	return titles
}

// alternatives shows the ways in which a job is offered beside each other.
func (s *site) alternatives(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	if r.Params("letter") != "" {
		if _, err := alternativeOf(r, facts); err != nil {
			return err
		}
	}
	return s.showAlternatives(r, facts, blank(nil))
}

func (s *site) showAlternatives(r *request, facts job.Facts, f *form) error {
	views, err := facts.AlternativeViews()
	if err != nil {
		return err
	}
	page := alternativesPage{Frame: r.frame("jobs", "Alternatives of "+facts.Job.Name), Job: facts.Job}
	if closed := facts.Alterable(); closed != nil {
		page.Closed = sentence(closed.Error())
	}
	var offers []bill.AlternativePaper
	for _, view := range views {
		offers = append(offers, view.Offer)
		page.Each = append(page.Each, alternativeFormOf(f, facts, view))
	}
	page.Compared = bill.CompareAlternatives(offers)
	if len(views) < len(bill.Letters) {
		page.Add = addFields(f, len(views))
	}
	page.Head = f.head()
	if !f.ok() {
		r.Status(422)
	}
	return r.show("alternatives", page)
}

// markedSays tells what an offer leaves over the planned cost, in each of its alternatives.
func markedSays(facts job.Facts, kind bill.Kind) string {
	if kind != bill.Quote || len(facts.Alternatives) == 0 {
		facts.Alternatives = nil
		says, _ := leftOver(facts)
		return says
	}
	var each []string
	for _, one := range facts.Alternatives {
		if says, _ := leftOver(facts.By(one)); says != "" {
			each = append(each, one.Letter+": "+says)
		}
	}
	return strings.Join(each, " ")
}

// again are the parts of an alternative that may go back to A's, by the names of their ticks.
var again = []struct{ name, label string }{{"rows", "Rows as in A again"}, {"mix", "Mix as in A again"}, {"prices", "Prices as in A again"}}

func alternativeFormOf(f *form, facts job.Facts, view job.AlternativeView) alternativeForm {
	own := map[string]bool{"rows": view.Layout != nil, "mix": view.Recipe != nil, "prices": view.Rates != nil}
	name := "name_" + view.Letter
	if _, typed := f.typed[name]; !typed {
		f.typed[name] = view.Name
	}
	page := alternativeForm{AlternativeView: view, Path: alternativesPath(facts.Job.ID) + "/" + view.Letter,
		Sketch: sketchOfText(view.Offer.Paper.Map, besideLink),
		Name:   f.field(Field{Name: name, Label: "Name of " + view.Letter, Required: true})}
	page.Cannot = sentence(page.Cannot)
	for _, part := range again {
		if own[part.name] {
			page.Again = append(page.Again, f.field(Field{Name: part.name + "_" + view.Letter, Kind: "tick", Label: part.label}))
		}
	}
	return page
}

// addFields name the next alternative, and A with the first one.
func addFields(f *form, there int) (fields []Field) {
	if there == 0 {
		fields = append(fields, f.field(Field{Name: "name_of_a", Label: "What A is called, the job as it stands", Required: true, Hint: "A few words that tell it from the other, such as twin rows."}))
		there = 1
	}
	return append(fields, f.field(Field{Name: "name", Label: "What " + bill.Letters[there] + " is called", Required: true, Hint: "Such as wider alleys, or a second species."}))
}

// mostName is how long the name of an alternative may be: it stands in tables and choices.
const mostName = 60

func alternativeName(f *form, field string) string {
	name := f.must(field, "Give it a few words that the farmer knows it by.")
	if len([]rune(name)) > mostName {
		f.refuse(field, "This is %d characters long, shorten it to %d: it stands in tables and choices.", len([]rune(name)), mostName)
	}
	return strings.Join(strings.Fields(name), " ")
}

// alternativeAdd offers a job in one more alternative, as in A until something is changed.
func (s *site) alternativeAdd(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	f := readForm(r)
	nameOfA := ""
	if len(facts.Alternatives) == 0 {
		nameOfA = alternativeName(f, "name_of_a")
	}
	name := alternativeName(f, "name")
	if f.ok() && (strings.EqualFold(name, nameOfA) || nameTaken(facts.Alternatives, name, "")) {
		f.refuse("name", "Another alternative has this name: choose one that tells them apart.")
	}
	if f.ok() {
		if err := f.take(s.Books.AddAlternative(r.Context(), r.act(), facts.Job.ID, nameOfA, name)); err != nil {
			return err
		}
	}
	if f.ok() {
		return r.see(alternativesPath(facts.Job.ID) + "?done=kept")
	}
	return s.showAlternatives(r, facts, f)
}

// alternativeChange renames an alternative, lets parts of it be as in A again, or takes it off.
func (s *site) alternativeChange(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	one, err := alternativeOf(r, facts)
	if err != nil {
		return err
	}
	f := readForm(r)
	if f.typed["do"] == "off" {
		err = s.Books.DropAlternative(r.Context(), r.act(), facts.Job.ID, one.Letter)
	} else if one.Name = alternativeName(f, "name_"+one.Letter); f.ok() {
		if nameTaken(facts.Alternatives, one.Name, one.Letter) {
			f.refuse("name_"+one.Letter, "Another alternative has this name: choose one that tells them apart.")
		} else {
			asInA(f, &one)
			err = s.Books.KeepAlternative(r.Context(), r.act(), one)
		}
	}
	if err := f.take(err); err != nil {
		return err
	}
	if f.ok() {
		return r.see(alternativesPath(facts.Job.ID) + "?done=kept")
	}
	return s.showAlternatives(r, facts, f)
}

// nameTaken tells whether an alternative other than the one of a letter has a name.
func nameTaken(all []job.Alternative, name, except string) bool {
	return slices.ContainsFunc(all, func(a job.Alternative) bool { return a.Letter != except && strings.EqualFold(a.Name, name) })
}

// asInA lets go of the parts of an alternative that are ticked.
func asInA(f *form, one *job.Alternative) {
	ticked := func(part string) bool { return f.typed[part+"_"+one.Letter] != "" }
	if ticked("rows") {
		one.Layout = nil
	}
	if ticked("mix") {
		one.Recipe = nil
	}
	if ticked("prices") {
		one.Rates = nil
	}
}
