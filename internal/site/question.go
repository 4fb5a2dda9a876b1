package site

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"rowtally/internal/job"
)

// questionBooks is what the farmer's questions ask of the store.
type questionBooks interface {
	Ask(ctx context.Context, act job.Act, q job.Question, first job.Word) (int64, error)
	Say(ctx context.Context, act job.Act, w job.Word) error
}

func (s *site) questionRoutes() []route {
	const ofFarmer, ofOffice = "/farm/:token/jobs/:id/questions", "/jobs/:id/questions/:question"
	return []route{
		{method: post, path: ofFarmer, open: anyone, answer: s.farmerAsk},
		{method: get, path: ofFarmer, open: anyone, answer: s.farmerJob}, // where a reload of a refused question leads
		{method: post, path: ofFarmer + "/:question", open: anyone, answer: s.farmerSay},
		{method: get, path: ofFarmer + "/:question", open: anyone, answer: s.farmerJob},
		office(post, ofOffice, s.answer),
		office(get, ofOffice, s.jobShow),
	}
}

// threadView is a question with the fields in which its next word is written.
type threadView struct {
	job.Thread
	Fields []Field
	Open   bool // its form has something to change
}

// threadsOf draws the questions of a job; fields are those of a question's next word.
func threadsOf(facts job.Facts, f *form, fields func(job.Thread) []Field) (all []threadView) {
	for _, t := range facts.Threads() {
		view := threadView{Thread: t, Fields: f.fields(fields(t)...)}
		for _, one := range view.Fields {
			view.Open = view.Open || one.Error != ""
		}
		all = append(all, view)
	}
	return all
}

// inThread is a field's name within one question, so that many stand on one page.
func inThread(name string, question int64) string { return fmt.Sprintf("%s_%d", name, question) }

// askFields are the fields of a new question.
func askFields(facts job.Facts) []Field {
	fields := []Field{{Name: "about", Label: "About", Kind: "select", Options: subjects(facts), Required: true}}
	if _, err := facts.Rows(); err == nil {
		fields = append(fields, Field{Name: "ask_row", Label: "Number of the row", Kind: "number", Inputmode: "numeric", Hint: "For a question about one row."})
	}
	return append(fields,
		Field{Name: "ask_text", Label: "Your question", Kind: "textarea", Required: true},
		Field{Name: "ask_name", Label: "Who asks", Required: true})
}

const aboutRow = "row"

// subjects is what may be asked about, a row by its number first after the job.
func subjects(facts job.Facts) []Option {
	var options []Option
	for i, q := range facts.Subjects() {
		options = append(options, Option{aboutValue(q), sentenceCase(facts.AboutSays(q))})
		if i == 0 {
			if _, err := facts.Rows(); err == nil {
				options = append(options, Option{aboutRow, "One row, by its number"})
			}
		}
	}
	return options
}

func aboutValue(q job.Question) string { return fmt.Sprintf("paper %d line %d", q.PaperID, q.Line) }

// sentenceCase begins a phrase with a capital and leaves its end as it is.
func sentenceCase(s string) string { return strings.TrimSuffix(sentence(s), ".") }

// askedAbout reads what a new question is about.
func askedAbout(f *form, facts job.Facts) job.Question {
	q := job.Question{JobID: facts.Job.ID}
	switch about := f.oneOf("about", subjects(facts)); {
	case about == aboutRow:
		if f.typed["ask_row"] == "" {
			f.refuse("ask_row", "Enter the number of the row, as the map and the list of rows have it.")
		} else if q.Row = f.integer("ask_row", 1, 1_000_000); f.ok() {
			f.heed(facts.CheckRow(q.Row))
			f.as("row", "ask_row")
		}
	case f.typed["ask_row"] != "":
		f.refuse("about", "Row %s is entered below: choose “One row, by its number”, or leave the number empty.", f.typed["ask_row"])
	default:
		for _, one := range facts.Subjects() {
			if aboutValue(one) == about {
				q = one
			}
		}
	}
	return q
}

// farmerAsk keeps a new question.
func (s *site) farmerAsk(r *request) error {
	farm, facts, err := s.farmerOf(r)
	if err != nil {
		return err
	}
	f := readForm(r)
	q := askedAbout(f, facts)
	w := job.Word{Kind: job.Asks, Text: f.typed["ask_text"], Name: f.typed["ask_name"], Address: r.IP()}
	f.heed(w.Check())
	if f.ok() {
		id, err := s.Books.Ask(r.Context(), r.farmerAct(farm, w.Name), q, w)
		if err == nil {
			return r.see(s.threadPath(r, facts, id, "asked"))
		}
		if err := f.take(err); err != nil {
			return err
		}
	}
	f.as("text", "ask_text")
	f.as("name", "ask_name")
	return s.showFarmerJob(r, facts, f)
}

// farmerSay asks on in a question of the farm's, or closes it.
func (s *site) farmerSay(r *request) error {
	farm, facts, err := s.farmerOf(r)
	if err != nil {
		return err
	}
	id, err := questionOf(r, facts)
	if err != nil {
		return err
	}
	f := readForm(r)
	w := readWord(f, id, job.Asks)
	w.Name, w.Address = f.typed[inThread("name", id)], r.IP()
	if err := s.Books.Say(r.Context(), r.farmerAct(farm, w.Name), w); err == nil {
		return r.see(s.threadPath(r, facts, id, doneWith(w)))
	} else if err := f.take(err); err != nil {
		return err
	}
	f.as("text", inThread("text", id))
	f.as("name", inThread("name", id))
	return s.showFarmerJob(r, facts, f)
}

// readWord reads the next word of a question off its form; the button that closes says so.
func readWord(f *form, id int64, kind job.WordKind) job.Word {
	if f.typed["do"] == "close" {
		kind = job.Closes
	}
	return job.Word{QuestionID: id, Kind: kind, Text: f.typed[inThread("text", id)]}
}

func doneWith(w job.Word) string {
	switch w.Kind {
	case job.Closes:
		return "closed"
	case job.Answers:
		return "answered"
	}
	return "asked"
}

// farmerAct is an act of whoever holds the farm's link.
func (r *request) farmerAct(farm job.Farm, name string) job.Act {
	return job.Act{Who: "for " + farm.Name + ": " + name, Now: r.now, Key: r.key()}
}

func (s *site) threadPath(r *request, facts job.Facts, id int64, done string) string {
	return fmt.Sprintf("/farm/%s/jobs/%d?done=%s#question-%d", r.Params("token"), facts.Job.ID, done, id)
}

// questionOf is the question of the job that the path names.
func questionOf(r *request, facts job.Facts) (int64, error) {
	id, err := r.id("question")
	if err != nil {
		return 0, err
	}
	for _, q := range facts.Questions {
		if q.ID == id {
			return id, nil
		}
	}
	return 0, noPage()
}

// farmerFields are the fields of a question's next word on the farmer's page.
func farmerFields(t job.Thread) []Field {
	return []Field{
		{Name: inThread("text", t.ID), Label: "Anything more", Kind: "textarea", Hint: "May be left empty where you close the question."},
		{Name: inThread("name", t.ID), Label: "Who writes", Required: true},
	}
}

// offered fills in what a page begins with where nothing was typed: the row looked at, and
// the name of whoever wrote last.
func offered(f *form, facts job.Facts, row int, yes string) {
	offer := func(name, value string) {
		if _, typed := f.typed[name]; !typed {
			f.typed[name] = value
		}
	}
	name := yes
	for _, q := range facts.Questions {
		name = q.Asked().Name
		offer(inThread("name", q.ID), name)
	}
	offer("ask_name", name)
	if row != 0 {
		offer("about", aboutRow)
		offer("ask_row", strconv.Itoa(row))
	}
}
