package store

import (
	"context"

	"gorm.io/gorm"

	"rowtally/internal/job"
)

// Measuring is how a job's rows are measured: its own settings, else the business's, else
// the usual ones. jobID 0 gives the business's.
func (s *Store) Measuring(ctx context.Context, jobID int64) (job.Measuring, error) {
	found, err := measurings(s.reader(ctx), jobID)
	return found(jobID), err
}

// measurings reads how some jobs' rows are measured: by job, its own, else the business's.
func measurings(db *gorm.DB, jobIDs ...int64) (func(jobID int64) job.Measuring, error) {
	rows, err := all[job.Measuring](db.Where("job_id = 0 OR job_id IN ?", jobIDs))
	kept := map[int64]job.Measuring{}
	for _, m := range rows {
		kept[m.JobID] = m
	}
	return ownElse(kept, job.UsualMeasuring), err
}

// KeepMeasuring keeps how a job's rows are measured or, with the job 0, every job's that
// has no settings of its own.
func (s *Store) KeepMeasuring(ctx context.Context, a job.Act, m job.Measuring) error {
	return s.done(ctx, a, "set how rows are measured", func(t tx) error {
		if m.JobID == 0 {
			if err := t.replace(&m); err != nil {
				return err
			}
			return t.tell("business", 0, "set how rows are measured")
		}
		j, err := one[job.Job](t.DB, "job", m.JobID)
		if err != nil {
			return err
		}
		if err := t.replace(&m); err != nil {
			return err
		}
		return t.tell("job", j.ID, "set how the rows of %s are measured", j.Code)
	})
}

// DropMeasuring takes a job's own settings away: the business's hold again.
func (s *Store) DropMeasuring(ctx context.Context, a job.Act, jobID int64) error {
	return s.done(ctx, a, "measure rows as usual", func(t tx) error {
		j, err := one[job.Job](t.DB, "job", jobID)
		if err != nil {
			return err
		}
		if err := t.Where("job_id = ?", j.ID).Delete(&job.Measuring{}).Error; err != nil {
			return err
		}
		return t.tell("job", j.ID, "set the rows of %s to be measured as every job's", j.Code)
	})
}
