package store

import (
	"context"
	"fmt"

	"rowtally/internal/job"
)

// entryRow is a line of the journal with the person behind the name.
type entryRow struct {
	job.Entry
	PersonID int64 // 0 for the farmer and for first run
}

// Journal is the newest lines of the journal, newest first; limit 0 reads all.
func (s *Store) Journal(ctx context.Context, limit int) ([]job.Entry, error) {
	db := s.reader(ctx).Order("id DESC")
	if limit > 0 {
		db = db.Limit(limit)
	}
	return all[job.Entry](db)
}

// tell writes in the journal what the act did to a noun, in a plain sentence.
func (t tx) tell(noun string, id int64, sentence string, args ...any) error {
	return t.Create(&entryRow{
		Entry:    job.Entry{At: t.now, Who: t.act.Who, What: fmt.Sprintf(sentence, args...), Noun: noun, NounID: id},
		PersonID: t.act.PersonID,
	}).Error
}
