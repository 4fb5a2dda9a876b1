package store

import (
	"context"

	"rowtally/internal/job"
)

// fillQuoting reads what a job's quotes state beside its rates.
func (s *Store) fillQuoting(ctx context.Context, f *job.Facts) (err error) {
	f.Terms, err = s.Terms(ctx, f.Job.ID)
	return err
}
