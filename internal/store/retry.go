package store

import (
	"context"
	"errors"
	"math/rand/v2"
	"time"

	"github.com/jackc/pgx/v5/pgconn"
	"gorm.io/gorm"
)

// What PostgreSQL asks to be sent again as a whole: a transaction that could not be put in
// an order with others, and one that was chosen to break a deadlock.
const (
	serializationFailure = "40001"
	deadlockDetected     = "40P01"
)

const (
	tries        = 12
	longestPause = 200 * time.Millisecond
)

// transact runs one transaction, again from the start when the engine asks for that.
func (s *Store) transact(ctx context.Context, do func(*gorm.DB) error) error {
	for try := 0; ; try++ {
		err := s.write.WithContext(ctx).Transaction(do)
		if !asksAgain(err) || try == tries {
			return err
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(pause(try)):
		}
	}
}

func asksAgain(err error) bool {
	failure, ok := errors.AsType[*pgconn.PgError](err)
	return ok && (failure.Code == serializationFailure || failure.Code == deadlockDetected)
}

// pause grows with every try and is spread at random, so that those who collided do not
// collide again.
func pause(try int) time.Duration {
	most := min(longestPause, time.Millisecond<<min(try+1, 8))
	return time.Duration(rand.Int64N(int64(most))) + time.Millisecond
}
