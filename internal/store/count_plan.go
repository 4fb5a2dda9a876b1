package store

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"gorm.io/gorm"

	"rowtally/internal/count"
	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// countPlanRow is a plan with its places as text: they are drawn and read together.
type countPlanRow struct {
	ID            int64
	JobID         int64
	MadeAt        time.Time
	PersonID      int64
	PerStretch    int
	SpacingM      float64
	BearingDeg    float64
	SharePercent  float64
	WithinPercent float64
	Rho           float64
	Number        int64
	Places        string // JSON
}

// CountPlans is a job's plans in the order in which they were drawn: the last one is walked.
func (s *Store) CountPlans(ctx context.Context, jobID int64) ([]count.Plan, error) {
	return countPlans(s.reader(ctx), jobID)
}

func countPlans(db *gorm.DB, jobIDs ...int64) ([]count.Plan, error) {
	rows, err := all[countPlanRow](of(db, "job_id", jobIDs...).Order("id"))
	var plans []count.Plan
	for _, r := range rows {
		p := count.Plan{ID: r.ID, JobID: r.JobID, MadeAt: r.MadeAt, PersonID: r.PersonID, PerStretch: r.PerStretch, SpacingM: r.SpacingM,
			BearingDeg: r.BearingDeg, SharePercent: r.SharePercent, WithinPercent: r.WithinPercent, Rho: r.Rho, Number: r.Number}
		if err := json.Unmarshal([]byte(r.Places), &p.Places); err != nil {
			return nil, fmt.Errorf("read the places of plan %d: %w", r.ID, err)
		}
		plans = append(plans, p)
	}
	return plans, err
}

// AddCountPlan keeps where a job is counted. An earlier plan stays with its counts.
func (s *Store) AddCountPlan(ctx context.Context, a job.Act, p count.Plan) (int64, error) {
	return s.do(ctx, a, "draw the places of a count", func(t tx) (int64, error) {
		j, err := one[job.Job](t.DB, "job", p.JobID)
		if err != nil {
			return 0, err
		}
		if len(p.Places) == 0 {
			return 0, fault.Refuse("places", "a plan has at least one place, draw it again")
		}
		places, err := json.Marshal(p.Places)
		if err != nil {
			return 0, err
		}
		row := countPlanRow{0, p.JobID, t.now, t.act.PersonID, p.PerStretch, p.SpacingM, p.BearingDeg, p.SharePercent, p.WithinPercent, p.Rho, p.Number, string(places)}
		if err := t.add(&row, nil); err != nil {
			return 0, err
		}
		return row.ID, t.tell("job", j.ID, "drew %s of %d placements on %s with the number %d", count.StretchesSay(len(p.Places)), p.PerStretch, j.Code, p.Number)
	})
}
