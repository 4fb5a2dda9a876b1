package store

import (
	"context"
	"time"

	"gorm.io/gorm/clause"

	"rowtally/internal/fault"
)

// keyRow is an act that a browser numbered, with the answer it got.
type keyRow struct {
	Key    string
	Act    string
	Answer int64
	At     time.Time
}

// claimKey takes the act's key for this transaction. When another act has it, that act's
// answer comes back; a second sender waits here until the first one has ended.
func (t tx) claimKey(name string) (first bool, earlier int64, err error) {
	if t.act.Key == "" {
		return true, 0, nil
	}
	row := keyRow{t.act.Key, name, 0, t.now}
	done := t.Clauses(clause.OnConflict{DoNothing: true}).Create(&row)
	if done.Error != nil || done.RowsAffected == 1 {
		return done.Error == nil, 0, done.Error
	}
	seen, _, err := maybe[keyRow](t.Where("key = ?", t.act.Key))
	if err == nil && seen.Act != name {
		err = fault.Conflict("this form was already used to %s, load the page again", seen.Act)
	}
	return false, seen.Answer, err
}

func (t tx) keepAnswer(answer int64) error {
	if t.act.Key == "" || answer == 0 {
		return nil
	}
	return t.Model(&keyRow{}).Where("key = ?", t.act.Key).Update("answer", answer).Error
}

// keysLast is how long a form may be sent again and still change nothing.
const keysLast = 90 * 24 * time.Hour

// ForgetKeys forgets the keys of acts that are older than 90 days at a moment. Payments from
// a bank's file and entries from the truck have lasting keys of their own.
func (s *Store) ForgetKeys(ctx context.Context, now time.Time) error {
	err := s.write.WithContext(ctx).Where("at < ?", kept(now.Add(-keysLast))).Delete(&keyRow{}).Error
	return outcome("forget old keys", err)
}
