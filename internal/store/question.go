package store

import (
	"context"
	"time"

	"gorm.io/gorm"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// questionRow is a question without its words.
type questionRow struct {
	ID      int64
	JobID   int64
	Row     int
	PaperID int64
	Line    int
}

// saidRow is a word beside the question that it belongs to.
type saidRow struct {
	Question questionRow `gorm:"embedded;embeddedPrefix:q_"`
	job.Word
}

// Questions is what was asked about a job, oldest first, with every word said since, in one
// statement; jobID 0 gives those of every job.
func (s *Store) Questions(ctx context.Context, jobID int64) ([]job.Question, error) {
	return questionsOf(s.reader(ctx), jobID)
}

func questionsOf(db *gorm.DB, jobIDs ...int64) ([]job.Question, error) {
	return questions(db, "questions.job_id", jobIDs...)
}

func questions(db *gorm.DB, column string, ids ...int64) (out []job.Question, err error) {
	var said []saidRow
	err = of(db.Table("words").Joins("JOIN questions ON questions.id = words.question_id"), column, ids...).
		Select("words.*, questions.id AS q_id, questions.job_id AS q_job_id, questions.row AS q_row, questions.paper_id AS q_paper_id, questions.line AS q_line").
		Order("questions.id, words.id").Find(&said).Error
	for _, one := range said {
		q := one.Question
		if last := len(out) - 1; last < 0 || out[last].ID != q.ID {
			out = append(out, job.Question{ID: q.ID, JobID: q.JobID, Row: q.Row, PaperID: q.PaperID, Line: q.Line})
		}
		last := &out[len(out)-1]
		last.Words = append(last.Words, one.Word)
	}
	return out, err
}

// Ask keeps a farm's question about a job with its first word. A paper of another job, too
// many questions that wait, and too many words within an hour or a day are clashes.
func (s *Store) Ask(ctx context.Context, a job.Act, q job.Question, first job.Word) (int64, error) {
	return s.do(ctx, a, "ask a question", func(t tx) (int64, error) {
		j, err := locked[job.Job](t, "job", q.JobID)
		if err != nil {
			return 0, err
		}
		first.Kind, first.PersonID = job.Asks, 0
		if err := first.Check(); err != nil {
			return 0, err
		}
		if err := t.refuseQuestion(j, q); err != nil {
			return 0, err
		}
		row := questionRow{JobID: j.ID, Row: q.Row, PaperID: q.PaperID, Line: q.Line}
		if err := t.add(&row, nil); err != nil {
			return 0, err
		}
		first.QuestionID = row.ID
		return row.ID, t.say(j, first, "asked about %s")
	})
}

// Say keeps the next word of a question: asked on, answered or closed.
func (s *Store) Say(ctx context.Context, a job.Act, w job.Word) error {
	return s.done(ctx, a, "say a word", func(t tx) error {
		row, err := locked[questionRow](t, "question", w.QuestionID)
		if err != nil {
			return err
		}
		said, err := questions(t.DB, "questions.id", row.ID)
		if err != nil || len(said) != 1 {
			return err
		}
		j, err := one[job.Job](t.DB, "job", row.JobID)
		if err != nil {
			return err
		}
		w.PersonID = t.act.PersonID
		if err := said[0].Follow(w); err != nil {
			return err
		}
		return t.say(j, w, map[job.WordKind]string{job.Asks: "asked on about %s", job.Answers: "answered a question about %s", job.Closes: "closed a question about %s"}[w.Kind])
	})
}

// say writes a word and its line in the journal.
func (t tx) say(j job.Job, w job.Word, sentence string) error {
	if w.ByFarm() {
		if err := t.refuseFlood(j.FarmID); err != nil {
			return err
		}
	}
	w.ID, w.SaidAt = 0, t.now
	if err := t.add(&w, nil); err != nil {
		return err
	}
	return t.tell("job", j.ID, sentence, j.Code)
}

// refuseQuestion keeps a question from a paper that is not the job's, and a job from more
// of them than anybody answers.
func (t tx) refuseQuestion(j job.Job, q job.Question) error {
	if q.PaperID != 0 {
		paper, err := one[paperRow](t.DB, "paper", q.PaperID)
		if err != nil {
			return err
		}
		if paper.JobID != j.ID {
			return fault.Conflict("%s is not a paper of %s, load the page again", paper.Number, j.Code)
		}
	}
	asked, err := questions(t.DB, "questions.job_id", j.ID)
	waiting := 0
	for _, one := range asked {
		if one.Waits() {
			waiting++
		}
	}
	if err == nil && waiting >= job.MostWaitingAJob {
		err = fault.Conflict("%d questions about %s wait for an answer, and more are not taken. Add to one of them, or ring the contractor", waiting, j.Name)
	}
	return err
}

// refuseFlood bounds what the links of a farm may write. The farm's row keeps two writers
// from counting side by side.
func (t tx) refuseFlood(farmID int64) error {
	if _, err := locked[job.Farm](t, "farm", farmID); err != nil {
		return err
	}
	var said []time.Time
	err := t.Model(&job.Word{}).Joins("JOIN questions ON questions.id = words.question_id").Joins("JOIN jobs ON jobs.id = questions.job_id").
		Where("jobs.farm_id = ? AND words.person_id = 0 AND words.said_at > ?", farmID, t.now.Add(-24*time.Hour)).
		Order("words.id").Pluck("words.said_at", &said).Error
	if err != nil {
		return err
	}
	return job.TooMany(said, t.act.Now)
}
