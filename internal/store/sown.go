package store

import (
	"context"

	"gorm.io/gorm"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// Sown is the sown record of a job; ok is false while no log is matched.
func (s *Store) Sown(ctx context.Context, jobID int64) (sown job.Sown, ok bool, err error) {
	return first(sownRecords(s.reader(ctx), jobID))
}

func sownRecords(db *gorm.DB, jobIDs ...int64) ([]job.Sown, error) {
	return all[job.Sown](of(db, "job_id", jobIDs...))
}

// KeepSown keeps the sown record of a job, in the place of an earlier one.
func (s *Store) KeepSown(ctx context.Context, a job.Act, sown job.Sown) error {
	return s.done(ctx, a, "match logs to rows", func(t tx) error {
		j, err := one[job.Job](t.DB, "job", sown.JobID)
		if err != nil {
			return err
		}
		sown.MadeAt = t.now
		if err := t.replace(&sown); err != nil {
			return err
		}
		return t.tell("job", j.ID, "matched the logs of %s to its rows: %s row-km sown", j.Code, unit.Grouped(sown.SownM/1000, 3))
	})
}
