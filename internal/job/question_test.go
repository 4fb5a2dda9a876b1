package job

import (
	"strings"
	"testing"
	"time"

	"rowtally/internal/fault"
)

func thread(kinds ...WordKind) (q Question) {
	for _, kind := range kinds {
		q.Words = append(q.Words, Word{Kind: kind})
	}
	return q
}

func TestHowAQuestionStandsIsReadOffItsLastWord(t *testing.T) {
	for _, c := range []struct {
		q    Question
		want QuestionState
	}{
		{thread(), WaitsForAnswer},
		{thread(Asks), WaitsForAnswer},
		{thread(Asks, Answers), IsAnswered},
		{thread(Asks, Answers, Asks), WaitsForAnswer},
		{thread(Asks, Closes), IsClosed},
		{thread(Asks, Answers, Closes), IsClosed},
		{thread(Asks, Answers, Closes, Asks), WaitsForAnswer},
		{thread(Asks, Answers, Closes, Answers), IsAnswered},
	} {
		if got := c.q.State(); got != c.want {
			t.Errorf("%v stands %q, want %q", c.q.Words, got, c.want)
		}
	}
}

func TestAWordMustFitItsQuestion(t *testing.T) {
	const farm, office = 0, 7
	for _, c := range []struct {
		before Question
		kind   WordKind
		by     int64
		text   string
		kindOf fault.Kind
		says   string
	}{
		{thread(Asks), Asks, farm, "and?", -1, ""},
		{thread(Asks), Answers, office, "so", -1, ""},
		{thread(Asks), Closes, farm, "", -1, ""},
		{thread(Asks, Answers), Closes, office, "", -1, ""},
		{thread(Asks, Closes), Asks, farm, "once more", -1, ""},
		{thread(Asks), Closes, office, "", fault.Clash, "answer it before"},
		{thread(Asks, Closes), Closes, farm, "", fault.Clash, "closed already"},
		{thread(Asks), Answers, farm, "so", fault.Clash, "the contractor answers"},
		{thread(Asks), Asks, office, "what?", fault.Clash, "the farm asks"},
		{thread(Asks), Answers, office, "", fault.Refused, "write what"},
	} {
		err := c.before.Follow(Word{Kind: c.kind, PersonID: c.by, Text: c.text, Name: "somebody"})
		if c.kindOf < 0 {
			if err != nil {
				t.Errorf("%s after %v: %v", c.kind, c.before.Words, err)
			}
			continue
		}
		if err == nil || fault.KindOf(err) != c.kindOf || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s by %d after %v: %v, want %q", c.kind, c.by, c.before.Words, err, c.says)
		}
	}
}

// The window slides: what was said an hour ago counts no longer, and the sentence names the
// moment from which the next word is taken.
func TestTooManyNamesWhenTheNextIsTaken(t *testing.T) {
	now := time.Date(2026, 7, 20, 12, 0, 0, 0, time.UTC)
	var said []time.Time
	for i := range MostWordsAnHour {
		said = append(said, now.Add(-time.Duration(59-i)*time.Minute))
	}
	err := TooMany(said, now)
	if err == nil || !strings.Contains(err.Error(), "Wait until 12:01 on 20 Jul 2026") {
		t.Errorf("%d within the hour: %v", len(said), err)
	}
	if err := TooMany(said, now.Add(61*time.Second)); err != nil {
		t.Errorf("once the first is an hour old: %v", err)
	}
	if err := TooMany(said[1:], now); err != nil {
		t.Errorf("one less: %v", err)
	}
}

func TestWhatMayBeAskedAbout(t *testing.T) {
	f := sceneOf(t, 24.8).quoted(t, 1, "2026-07-01").quoted(t, 2, "2026-07-02")
	subjects := f.Subjects()
	if want := 2 + len(f.Papers[1].Lines); len(subjects) != want {
		t.Fatalf("%d subjects, want the job, the newest quote and its lines: %d", len(subjects), want)
	}
	for q, want := range map[*Question]string{
		{Row: 7}:                 "row 7",
		{}:                       "the job as a whole",
		&subjects[1]:             "quote Q2026-0002",
		&subjects[4]:             "quote Q2026-0002, line 3: Seeding rows on mounds",
		{PaperID: 1, Line: 1}:    "quote Q2026-0001, line 1: Set-up and calibration",
		{PaperID: 1, Line: 1000}: "quote Q2026-0001",
	} {
		if got := f.AboutSays(*q); got != want {
			t.Errorf("%+v is about %q, want %q", *q, got, want)
		}
	}
	if err := f.CheckRow(79); err != nil {
		t.Errorf("row 79 of 79: %v", err)
	}
	for _, row := range []int{0, 80, -1} {
		if err := f.CheckRow(row); fault.Fields(err)["row"] == "" || !strings.Contains(err.Error(), "from 1 to 79") {
			t.Errorf("row %d: %v", row, err)
		}
	}
}

func TestWhatWaitsStandsFirst(t *testing.T) {
	f := sceneOf(t, 24.8)
	closed, answered, waits := thread(Asks, Closes), thread(Asks, Answers), thread(Asks)
	closed.ID, answered.ID, waits.ID, waits.Row = 1, 2, 3, 7
	f.Questions = []Question{closed, answered, waits}
	threads := f.Threads()
	if len(threads) != 3 || threads[0].ID != 3 || threads[1].ID != 2 || threads[2].ID != 1 || threads[0].Path != "?row=7#one-row" {
		t.Errorf("the threads are %+v", threads)
	}
	if !f.Queried() {
		t.Error("a job with an open question is not queried")
	}
	f.Questions = []Question{closed}
	if f.Queried() {
		t.Error("a job whose questions are closed is queried")
	}
}
