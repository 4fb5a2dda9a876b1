package job

import (
	"time"
	"unicode/utf8"

	"rowtally/internal/fault"
)

// Question is what a farmer asks about a job by the farm's link, with every word said
// since. Nothing of it is changed or taken away: how it stands is read off its last word.
type Question struct {
	ID      int64
	JobID   int64
	Row     int   // that it is about, numbered from 1 as on every page; 0 for none
	PaperID int64 // that it is about; 0 for none
	Line    int   // of that paper, by its position from 1; 0 for the whole paper
	Words   []Word
}

// Word is one thing said in a question. The farm's are said by the bearer of its link.
type Word struct {
	ID         int64
	QuestionID int64
	Kind       WordKind
	Text       string // at most MostWordRunes; may be empty where the word closes the question
	Name       string // of who says it, as typed or as signed in
	SaidAt     time.Time
	PersonID   int64  // of who signed in; 0 for the farm
	Address    string // network address that the farm's word came from; "" for the office's
}

// WordKind tells what a word does to its question.
type WordKind string

const (
	Asks    WordKind = "asks"    // by the farm: the first word, and every one that asks on
	Answers WordKind = "answers" // by the contractor
	Closes  WordKind = "closes"  // by either
)

// QuestionState is how a question stands, in the words that both the farmer and the
// contractor read.
type QuestionState string

const (
	WaitsForAnswer QuestionState = "waits for an answer"
	IsAnswered     QuestionState = "answered"
	IsClosed       QuestionState = "closed"
)

// The most that may be said. A link is open to whoever holds it, so what it may write is
// bounded; our own settings.
const (
	MostWordRunes    = 1000
	MostNameRunes    = 80
	MostWordsAnHour  = 12 // by one farm's links together
	MostWordsADay    = 40
	MostWaitingAJob  = 20 // questions of one job that wait for an answer
	wordsCountedOver = 24 * time.Hour
)

// State is how the question stands.
func (q Question) State() QuestionState {
	if len(q.Words) == 0 {
		return WaitsForAnswer
	}
	switch q.Words[len(q.Words)-1].Kind {
	case Answers:
		return IsAnswered
	case Closes:
		return IsClosed
	}
	return WaitsForAnswer
}

// Waits tells whether the contractor owes an answer.
func (q Question) Waits() bool { return q.State() == WaitsForAnswer }

// Closed tells whether both may leave it alone.
func (q Question) Closed() bool { return q.State() == IsClosed }

// Asked is the first word; zero while there is none.
func (q Question) Asked() Word {
	if len(q.Words) == 0 {
		return Word{}
	}
	return q.Words[0]
}

// ByFarm tells whether the bearer of the farm's link says it.
func (w Word) ByFarm() bool { return w.PersonID == 0 }

// Check refuses a word without a name ("name") or a text ("text"), and one that is too long.
func (w Word) Check() error {
	switch {
	case w.Name == "":
		return fault.Refuse("name", "type your name, so that the answer finds you")
	case utf8.RuneCountInString(w.Name) > MostNameRunes:
		return fault.Refuse("name", "a name of %d characters is too long, shorten it to %d", utf8.RuneCountInString(w.Name), MostNameRunes)
	case w.Text == "" && w.Kind != Closes:
		return fault.Refuse("text", "write what you want to say")
	case utf8.RuneCountInString(w.Text) > MostWordRunes:
		return fault.Refuse("text", "this is %d characters long, shorten it to %d", utf8.RuneCountInString(w.Text), MostWordRunes)
	}
	return nil
}

// Follow refuses a word that cannot be the question's next: an answer by the farm, asking by
// the contractor, and closing what is closed, or what the contractor has not answered yet.
func (q Question) Follow(w Word) error {
	switch {
	case w.Kind == Asks && !w.ByFarm(), w.Kind == Answers && w.ByFarm():
		return fault.Conflict("the farm asks and the contractor answers, load the page again")
	case w.Kind == Closes && q.Closed():
		return fault.Conflict("this question is closed already")
	case w.Kind == Closes && !w.ByFarm() && q.Waits():
		return fault.Conflict("this question waits for an answer: answer it before it is closed")
	}
	return w.Check()
}

// TooMany refuses one more word by a farm's link, where said are the moments of its words
// within the last day, oldest first.
func TooMany(said []time.Time, now time.Time) error {
	for _, limit := range []struct {
		most   int
		within time.Duration
		word   string
	}{{MostWordsAnHour, time.Hour, "hour"}, {MostWordsADay, wordsCountedOver, "day"}} {
		recent := since(said, now.Add(-limit.within))
		if len(recent) >= limit.most {
			free := recent[len(recent)-limit.most].Add(limit.within).In(now.Location())
			return fault.Conflict("%d questions and replies came by this farm's link within the %s, and more are not taken. Wait until %s, or ring the contractor",
				len(recent), limit.word, free.Format("15:04 on 2 Jan 2006"))
		}
	}
	return nil
}

// since is the moments after one of them; all are in order.
func since(said []time.Time, from time.Time) []time.Time {
	for i, at := range said {
		if at.After(from) {
			return said[i:]
		}
	}
	return nil
}
