package store

import (
	"context"
	"time"

	"gorm.io/gorm"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// sessionRow is one signing in. Only the hash of its token is kept, so that a copy of the
// store lets nobody in.
type sessionRow struct {
	TokenHash string
	PersonID  int64
	OpenedAt  time.Time
	Until     time.Time
}

// OpenSession lets the bearer of a token be this person until a moment, and forgets the
// sessions that have run out.
func (s *Store) OpenSession(ctx context.Context, tokenHash string, personID int64, now, until time.Time) error {
	err := s.transact(ctx, func(db *gorm.DB) error {
		if err := db.Where("until <= ?", kept(now)).Delete(&sessionRow{}).Error; err != nil {
			return err
		}
		return db.Create(&sessionRow{tokenHash, personID, kept(now), kept(until)}).Error
	})
	return outcome("open a session", err)
}

// SessionPerson is who a token stands for; missing when it ran out, was closed, or the
// person left.
func (s *Store) SessionPerson(ctx context.Context, tokenHash string, now time.Time) (job.Person, error) {
	person, ok, err := maybe[job.Person](s.reader(ctx).
		Joins("JOIN sessions ON sessions.person_id = people.id").
		Where(`sessions.token_hash = ? AND sessions.until > ? AND NOT people."left"`, tokenHash, kept(now)))
	if err == nil && !ok {
		err = fault.Miss("this sign-in has ended, sign in again")
	}
	return person, err
}

// CloseSession ends one signing in; one that has ended already is fine.
func (s *Store) CloseSession(ctx context.Context, tokenHash string) error {
	err := s.write.WithContext(ctx).Where("token_hash = ?", tokenHash).Delete(&sessionRow{}).Error
	return outcome("close a session", err)
}
