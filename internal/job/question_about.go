package job

import (
	"fmt"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/unit"
)

// Thread is a question as a page shows it.
type Thread struct {
	Question
	About string // "row 7", "invoice T2026-0001, line 3: Seeding rows", "the job as a whole"
	Path  string // of the farmer's page, below the job: "?row=7#one-row"; "" where there is nothing to see
}

// Threads are the job's questions: those that wait first, then answered, then closed, each
// in the order of their asking.
func (f Facts) Threads() (threads []Thread) {
	for _, state := range []QuestionState{WaitsForAnswer, IsAnswered, IsClosed} {
		for _, q := range f.Questions {
			if q.State() == state {
				thread := Thread{Question: q, About: f.AboutSays(q)}
				if q.Row != 0 {
					thread.Path = fmt.Sprintf("?row=%d#one-row", q.Row)
				}
				threads = append(threads, thread)
			}
		}
	}
	return threads
}

// Queried tells whether any question of the job is still open between farm and contractor.
func (f Facts) Queried() bool {
	for _, q := range f.Questions {
		if !q.Closed() {
			return true
		}
	}
	return false
}

// AboutSays names what a question is about.
func (f Facts) AboutSays(q Question) string {
	if q.Row != 0 {
		return fmt.Sprintf("row %d", q.Row)
	}
	for _, p := range f.Papers {
		if p.ID == q.PaperID {
			return aboutPaper(f.asAgreed(p), q.Line)
		}
	}
	return "the job as a whole"
}

// aboutPaper names a paper, and a line of it where one is meant.
func aboutPaper(p bill.Paper, position int) string {
	name := string(p.Kind) + " " + p.Number
	for _, line := range p.Lines {
		if line.Position == position {
			return fmt.Sprintf("%s, line %d: %s", name, position, line.Description)
		}
	}
	return name
}

// Subjects are what a farmer may ask about beside a row: the job, the invoice and the quote
// with each line, adjustment notes.
func (f Facts) Subjects() []Question {
	all := []Question{{JobID: f.Job.ID}}
	for i := len(f.Papers) - 1; i >= 0; i-- {
		p := f.Papers[i]
		if p.Kind == bill.Quote && f.replaced(p) {
			continue
		}
		all = append(all, Question{JobID: f.Job.ID, PaperID: p.ID})
		for _, line := range f.asAgreed(p).Lines {
			all = append(all, Question{JobID: f.Job.ID, PaperID: p.ID, Line: line.Position})
		}
	}
	return all
}

// replaced tells whether a quote has a newer revision.
func (f Facts) replaced(p bill.Paper) bool {
	newest, _ := f.Quote()
	return newest.ID != p.ID
}

// CheckRow refuses a question about a row that the job has not ("row").
func (f Facts) CheckRow(row int) error {
	laid, err := f.Rows()
	if err != nil {
		return fault.Refuse("row", "no rows are laid yet, ask about the job as a whole")
	}
	for _, one := range laid.Rows {
		if one.Number == row {
			return nil
		}
	}
	return fault.Refuse("row", "there is no row %s, enter a number from %d to %d", unit.Grouped(float64(row), 0), laid.Rows[0].Number, laid.Rows[len(laid.Rows)-1].Number)
}
