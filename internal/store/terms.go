package store

import (
	"context"

	"rowtally/internal/job"
)

// Terms is what quotes of a job state: the job's own, else the business's, else the usual
// ones. JobID tells whose they are; jobID 0 asks for the business's.
func (s *Store) Terms(ctx context.Context, jobID int64) (job.Terms, error) {
	terms, ok, err := maybe[job.Terms](s.reader(ctx).Where("job_id IN ?", []int64{0, jobID}).Order("job_id DESC"))
	if err == nil && !ok {
		terms = job.UsualTerms()
	}
	return terms, err
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
