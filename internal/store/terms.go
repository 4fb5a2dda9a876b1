package store

import (
	"context"

	"gorm.io/gorm"

	"rowtally/internal/job"
)

// Terms is what quotes of a job state: the job's own, else the business's, else the usual
// ones. JobID tells whose they are; jobID 0 asks for the business's.
func (s *Store) Terms(ctx context.Context, jobID int64) (job.Terms, error) {
	found, err := termsOf(s.reader(ctx), jobID)
	return found(jobID), err
}

// termsOf reads the terms of some jobs: by job, its own, else the business's.
func termsOf(db *gorm.DB, jobIDs ...int64) (func(jobID int64) job.Terms, error) {
	rows, err := all[job.Terms](db.Where("job_id = 0 OR job_id IN ?", jobIDs))
	kept := map[int64]job.Terms{}
	for _, t := range rows {
		kept[t.JobID] = t
	}
	return ownElse(kept, job.UsualTerms()), err
}

// KeepTerms puts terms in the place of the business's own, or of a job's.
func (s *Store) KeepTerms(ctx context.Context, a job.Act, terms job.Terms) error {
	return s.done(ctx, a, "keep terms", func(t tx) error {
		if terms.JobID == 0 {
			if err := t.replaceTerms(terms); err != nil {
				return err
			}
			return t.tell("business", 0, "changed the terms of its quotes")
		}
		j, err := locked[job.Job](t, "job", terms.JobID)
		if err != nil {
			return err
		}
		if err := t.replaceTerms(terms); err != nil {
			return err
		}
		return t.tell("job", j.ID, "gave %s terms of its own", j.Code)
	})
}

func (t tx) replaceTerms(terms job.Terms) error {
	if err := t.Where("job_id = ?", terms.JobID).Delete(&job.Terms{}).Error; err != nil {
		return err
	}
	return t.Select("*").Create(&terms).Error
}

// DropTerms lets a job go by the business's terms again.
func (s *Store) DropTerms(ctx context.Context, a job.Act, jobID int64) error {
	return s.done(ctx, a, "drop terms", func(t tx) error {
		j, err := locked[job.Job](t, "job", jobID)
		if err != nil {
			return err
		}
		if err := t.Where("job_id = ?", jobID).Delete(&job.Terms{}).Error; err != nil {
			return err
		}
		return t.tell("job", jobID, "put %s under the business's terms again", j.Code)
	})
}
