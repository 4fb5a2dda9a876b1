package store

import (
	"context"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"

	"rowtally/internal/job"
)

// Layout is how a job's rows are laid; ok is false while they are not.
func (s *Store) Layout(ctx context.Context, jobID int64) (layout job.Layout, ok bool, err error) {
	return first(layouts(s.reader(ctx), jobID))
}

func layouts(db *gorm.DB, jobIDs ...int64) ([]job.Layout, error) {
	return all[job.Layout](of(db, "job_id", jobIDs...))
}

// KeepLayout lays a job's rows, or lays them anew.
func (s *Store) KeepLayout(ctx context.Context, a job.Act, layout job.Layout) error {
	return s.done(ctx, a, "lay rows", func(t tx) error {
		j, err := one[job.Job](t.DB, "job", layout.JobID)
		if err != nil {
			return err
		}
		if err := t.replace(&layout); err != nil {
			return err
		}
		return t.tell("job", j.ID, "laid the rows of %s: bearing %g°, %d to a belt, alleys of %g m",
			j.Code, layout.BearingDeg, layout.RowsPerBelt, layout.AlleyM)
	})
}

// replace adds the one row that a job has of a noun, or puts it in the place of the
// earlier one.
func (t tx) replace(row any) error {
	return t.Clauses(clause.OnConflict{Columns: []clause.Column{{Name: "job_id"}}, UpdateAll: true}).Create(row).Error
}
