package store

import (
	"context"
	"fmt"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// jobCodes is the series that gives jobs their numbers; it does not start anew each year.
const jobCodes = "job"

// Jobs is the jobs of a season, in order of their coming in; season 0 gives all.
func (s *Store) Jobs(ctx context.Context, season int) ([]job.Job, error) {
	return all[job.Job](of(s.reader(ctx), "season", int64(season)).Order("id"))
}

// Job is one job.
func (s *Store) Job(ctx context.Context, id int64) (job.Job, error) {
	return one[job.Job](s.reader(ctx), "job", id)
}

// AddJob keeps a new job. Without a code it gets the next one; without a name, its paddock's.
func (s *Store) AddJob(ctx context.Context, a job.Act, j job.Job) (int64, error) {
	return s.do(ctx, a, "add a job", func(t tx) (int64, error) {
		j.ID = 0
		farm, err := one[job.Farm](t.DB, "farm", j.FarmID)
		if err != nil {
			return 0, err
		}
		if err := t.placeJob(&j); err != nil {
			return 0, err
		}
		if err := t.numberJob(&j); err != nil {
			return 0, err
		}
		if err := t.add(&j, fault.Refuse("code", "a job has the number %s already, leave it empty for the next one", j.Code)); err != nil {
			return 0, err
		}
		return j.ID, t.tell("job", j.ID, "added job %s, %s at %s", j.Code, j.Name, farm.Name)
	})
}

// placeJob checks that the job's paddock, if it has one, is of its farm.
func (t tx) placeJob(j *job.Job) error {
	if j.PaddockID == 0 {
		return nil
	}
	paddock, err := one[job.Paddock](t.DB, "paddock", j.PaddockID)
	if err != nil {
		return err
	}
	if paddock.FarmID != j.FarmID {
		return fault.Refuse("paddock_id", "%s is a paddock of another farm, choose one of this farm", paddock.Name)
	}
	if j.Name == "" {
		j.Name = paddock.Name
	}
	return nil
}

// numberJob gives the job the next code that no job was given by hand.
func (t tx) numberJob(j *job.Job) error {
	for j.Code == "" {
		serial, err := t.next(jobCodes, 0)
		if err != nil {
			return err
		}
		code := fmt.Sprintf("J-%02d", serial)
		if _, taken, err := maybe[job.Job](t.Where("code = ?", code)); err != nil {
			return err
		} else if !taken {
			j.Code = code
		}
	}
	return nil
}

// ChangeJob changes a job's paddock, name, season, days and notes. Its code, its farm and
// its declining stay as they are.
func (s *Store) ChangeJob(ctx context.Context, a job.Act, j job.Job) error {
	return s.done(ctx, a, "change a job", func(t tx) error {
		before, err := locked[job.Job](t, "job", j.ID)
		if err != nil {
			return err
		}
		j.FarmID = before.FarmID
		if err := t.placeJob(&j); err != nil {
			return err
		}
		if err := t.change(&j, "job", j.ID, nil, "Code", "FarmID", "DeclinedOn", "DeclinedWhy"); err != nil {
			return err
		}
		return t.tell("job", j.ID, "changed job %s", before.Code)
	})
}

// Decline ends a job that will not be sown, and lets go of the stock held back for it.
func (s *Store) Decline(ctx context.Context, a job.Act, jobID int64, on unit.Date, why string) error {
	return s.done(ctx, a, "decline a job", func(t tx) error {
		j, err := locked[job.Job](t, "job", jobID)
		if err != nil {
			return err
		}
		if why == "" {
			return fault.Refuse("why", "a declined job keeps its reason, enter why %s will not be sown", j.Code)
		}
		if err := t.release(jobID); err != nil {
			return err
		}
		if err := t.set(&job.Job{}, "job", jobID, map[string]any{"declined_on": on, "declined_why": why}); err != nil {
			return err
		}
		return t.tell("job", jobID, "declined job %s: %s", j.Code, why)
	})
}
