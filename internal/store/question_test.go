package store

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// byLink is an act of whoever holds a farm's link, so long after the morning.
func byLink(after time.Duration) job.Act {
	return job.Act{Who: "for First Farm: the owner", Now: morning.Add(after)}
}

func word(kind job.WordKind, question int64, text string) job.Word {
	return job.Word{QuestionID: question, Kind: kind, Name: "the owner", Text: text}
}

func TestAQuestionIsAnsweredAndClosed(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		id := y.id(s.Ask(y.ctx, byLink(0), job.Question{JobID: y.job, Row: 7}, word("", 0, "why is row 7 short?")))
		state := func(want job.QuestionState, words int) {
			t.Helper()
			f, err := s.Facts(y.ctx, y.job, "2026-07-20")
			y.must(err)
			if len(f.Questions) != 1 || f.Questions[0].State() != want || len(f.Questions[0].Words) != words || f.Questions[0].Row != 7 {
				t.Errorf("the job's questions are %+v, want one of %d words that is %q", f.Questions, words, want)
			}
		}
		state(job.WaitsForAnswer, 1)
		refused(t, s.Say(y.ctx, y.act(), word(job.Closes, id, "")), fault.Clash, "", "answer it before")
		refused(t, s.Say(y.ctx, y.act(), word(job.Asks, id, "who?")), fault.Clash, "", "the farm asks")
		refused(t, s.Say(y.ctx, byLink(0), word(job.Answers, id, "because")), fault.Clash, "", "the farm asks")
		y.must(s.Say(y.ctx, y.act(), word(job.Answers, id, "the dam")))
		state(job.IsAnswered, 2)
		y.must(s.Say(y.ctx, byLink(time.Minute), word(job.Asks, id, "which dam?")))
		state(job.WaitsForAnswer, 3)
		y.must(s.Say(y.ctx, y.act(), word(job.Answers, id, "the northern one")))
		y.must(s.Say(y.ctx, byLink(time.Minute), word(job.Closes, id, "")))
		state(job.IsClosed, 5)
		refused(t, s.Say(y.ctx, byLink(time.Minute), word(job.Closes, id, "")), fault.Clash, "", "closed already")
		y.must(s.Say(y.ctx, byLink(time.Minute), word(job.Asks, id, "and row 8?")))
		state(job.WaitsForAnswer, 6)
		lines, err := s.Journal(y.ctx, 1)
		y.must(err)
		if lines[0].What != "asked on about J-01" || lines[0].Who != "for First Farm: the owner" {
			t.Errorf("the journal says %+v", lines[0])
		}
	})
}

func TestAQuestionThatCannotBeKeptIsRefused(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		other := y.quote(y.newJob())
		ask := func(q job.Question, w job.Word) error {
			_, err := s.Ask(y.ctx, byLink(0), q, w)
			return err
		}
		about := job.Question{JobID: y.job}
		refused(t, ask(job.Question{JobID: 99}, word("", 0, "x")), fault.Missing, "", "no job")
		refused(t, ask(about, word("", 0, "")), fault.Refused, "text", "write what")
		refused(t, ask(about, job.Word{Text: "x"}), fault.Refused, "name", "type your name")
		refused(t, ask(about, word("", 0, strings.Repeat("ü", job.MostWordRunes+1))), fault.Refused, "text", "1001 characters")
		y.must(ask(about, word("", 0, strings.Repeat("ü", job.MostWordRunes))))
		refused(t, ask(job.Question{JobID: y.job, PaperID: other.ID}, word("", 0, "x")), fault.Clash, "", "Q2026-0001 is not a paper of J-01")
		refused(t, s.Say(y.ctx, byLink(0), word(job.Asks, 99, "x")), fault.Missing, "", "no question")
		if n := rowsIn(t, s, "words"); n != 1 {
			t.Errorf("%d words are kept, want 1", n)
		}
	})
}

// An open link must not fill the store: 12 words within an hour, 40 within a day, however
// many jobs and questions they are about; the contractor's own are not counted.
func TestALinkMayNotWriteWithoutEnd(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		id := y.id(s.Ask(y.ctx, byLink(0), job.Question{JobID: y.job}, word("", 0, "first")))
		for i := 1; i < job.MostWordsAnHour; i++ {
			y.must(s.Say(y.ctx, byLink(time.Duration(i)*time.Minute), word(job.Asks, id, fmt.Sprint(i))))
		}
		_, err := s.Ask(y.ctx, byLink(59*time.Minute), job.Question{JobID: y.newJob()}, word("", 0, "one more"))
		refused(t, err, fault.Clash, "", "12 questions and replies came by this farm's link within the hour")
		refused(t, err, fault.Clash, "", "Wait until 10:30 on 20 Jul 2026")
		y.must(s.Say(y.ctx, y.act(), word(job.Answers, id, "an answer")))
		y.must(s.Say(y.ctx, byLink(61*time.Minute), word(job.Asks, id, "an hour later")))
		for said := job.MostWordsAnHour + 1; said < job.MostWordsADay; said++ {
			y.must(s.Say(y.ctx, byLink(time.Duration(said-9)*time.Hour/2), word(job.Asks, id, "on")))
		}
		refused(t, s.Say(y.ctx, byLink(20*time.Hour), word(job.Asks, id, "on")), fault.Clash, "", "40 questions and replies came by this farm's link within the day")
	})
}

func TestAJobTakesNoMoreQuestionsThanAnybodyAnswers(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		ask := func(i int) (int64, error) {
			return s.Ask(y.ctx, byLink(time.Duration(i)*6*time.Minute), job.Question{JobID: y.job, Row: i + 1}, word("", 0, "?"))
		}
		last := int64(0)
		for i := range job.MostWaitingAJob {
			last = y.id(ask(i))
		}
		_, err := ask(job.MostWaitingAJob)
		refused(t, err, fault.Clash, "", "20 questions about")
		y.must(s.Say(y.ctx, y.act(), word(job.Answers, last, "so")))
		y.id(ask(job.MostWaitingAJob))
	})
}

// questionBack is the question's part in coming back as it was kept.
func questionBack(t *testing.T, y yard) {
	y.job = y.newJob()
	paper := y.issue(invoice(y.job))
	asks, answers := filled[job.Word](t), filled[job.Word](t)
	want := job.Question{JobID: y.job, PaperID: paper.ID, Line: 2}
	byLink := job.Act{Who: "for First Farm: the owner", Now: morning}
	want.ID = y.id(y.Ask(y.ctx, byLink, want, asks))
	answers.QuestionID, answers.Kind = want.ID, job.Answers
	y.must(y.Say(y.ctx, y.act(), answers))
	got, err := y.Questions(y.ctx, y.job)
	y.must(err)
	asks.Kind, asks.QuestionID, asks.SaidAt, asks.PersonID = job.Asks, want.ID, morning.UTC(), 0
	answers.SaidAt, answers.PersonID = morning.UTC(), y.contractor
	want.Words = []job.Word{asks, answers}
	for i := range got[0].Words {
		want.Words[i].ID = got[0].Words[i].ID
	}
	same(t, got, []job.Question{want})
}
