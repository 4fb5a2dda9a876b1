package demo

import (
	"rowtally/internal/bill"
	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// asks leaves a question by the farm's link and gives its number.
func (b *builder) asks(farm, who string, q job.Question, on unit.Date, text string) int64 {
	id, err := b.books.Ask(b.ctx, b.actOf(0, "for "+farm+": "+who, on), q, job.Word{Name: who, Text: text, Address: "127.0.0.1"})
	return b.add("question", id, err)
}

// answers is the contractor's answer.
func (b *builder) answers(question int64, on unit.Date, text string) {
	b.keep("answer", b.books.Say(b.ctx, b.at(on), job.Word{QuestionID: question, Kind: job.Answers, Name: contractorName, Text: text}))
}

// closes is the farm's last word.
func (b *builder) closes(question int64, farm, who string, on unit.Date, text string) {
	b.keep("close", b.books.Say(b.ctx, b.actOf(0, "for "+farm+": "+who, on), job.Word{QuestionID: question, Kind: job.Closes, Name: who, Text: text, Address: "127.0.0.1"}))
}

// rowLine is a question about the first line of a job's invoice that follows the rows.
func (b *builder) rowLine(jobID int64, on unit.Date) job.Question {
	invoice, _ := b.facts(jobID, on).Invoice()
	for _, line := range invoice.Lines {
		if line.Basis == bill.RowKm {
			return job.Question{JobID: jobID, PaperID: invoice.ID, Line: line.Position}
		}
	}
	return job.Question{JobID: jobID}
}
