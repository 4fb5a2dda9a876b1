package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// tx is one act of a person while it is written: one transaction, one frozen moment.
type tx struct {
	*gorm.DB
	act job.Act
	now time.Time // UTC, in whole microseconds: what both engines keep
}

// kept is a moment as both engines keep it.
func kept(t time.Time) time.Time { return t.UTC().Truncate(time.Microsecond) }

// do runs one act in one transaction and gives its answer, a row's number in the store.
// An act whose key was seen before changes nothing and gets the first answer.
func (s *Store) do(ctx context.Context, a job.Act, name string, act func(tx) (int64, error)) (int64, error) {
	var answer int64
	err := s.transact(ctx, func(db *gorm.DB) error {
		t := tx{db, a, kept(a.Now)}
		first, earlier, err := t.claimKey(name)
		if err != nil || !first {
			answer = earlier
			return err
		}
		if answer, err = act(t); err != nil {
			return err
		}
		if err := t.keepAnswer(answer); err != nil {
			return err
		}
		return t.keepTruckEntry(answer)
	})
	return answer, outcome(name, err)
}

// done runs an act that has no answer.
func (s *Store) done(ctx context.Context, a job.Act, name string, act func(tx) error) error {
	_, err := s.do(ctx, a, name, func(t tx) (int64, error) { return 0, act(t) })
	return err
}

// outcome names the act in an internal error and leaves sentences for a person alone.
func outcome(name string, err error) error {
	switch {
	case err == nil || fault.KindOf(err) != fault.Internal:
		return err
	case errors.Is(err, gorm.ErrForeignKeyViolated):
		return fault.Conflict("something that this refers to is not kept any more, load the page again and choose anew")
	}
	return fmt.Errorf("%s: %w", name, err)
}

// add adds a row; a row that is there already is reported as duplicate.
func (t tx) add(row any, duplicate error) error { return doubled(t.Create(row).Error, duplicate) }

// change keeps every column of a row but its number and those left out.
func (t tx) change(row any, word string, id int64, duplicate error, leftOut ...string) error {
	done := t.Model(row).Select("*").Omit(append(leftOut, "ID")...).Where("id = ?", id).Updates(row)
	if done.Error == nil && done.RowsAffected == 0 {
		return notHere(word, id)
	}
	return doubled(done.Error, duplicate)
}

// set keeps one or more columns of the row with this number.
func (t tx) set(row any, word string, id int64, columns map[string]any) error {
	done := t.Model(row).Where("id = ?", id).Updates(columns)
	if done.Error == nil && done.RowsAffected == 0 {
		return notHere(word, id)
	}
	return done.Error
}

// locked reads the row with this number and keeps every other act off it until this one
// ends. SQLite has one writer and needs no lock.
func locked[T any](t tx, word string, id int64) (T, error) {
	return one[T](t.Clauses(clause.Locking{Strength: clause.LockingStrengthUpdate}), word, id)
}

func doubled(err, duplicate error) error {
	if duplicate != nil && errors.Is(err, gorm.ErrDuplicatedKey) {
		return duplicate
	}
	return err
}

// orNow is the moment at which something was done in the paddock, or the act's own when
// none came with it.
func (t tx) orNow(at time.Time) time.Time {
	if at.IsZero() {
		return t.now
	}
	return kept(at)
}

// today is the day of the act in its person's own zone.
func (t tx) today() unit.Date { return unit.DateOf(t.act.Now) }
