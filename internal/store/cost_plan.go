package store

import (
	"context"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/money"
)

// costPlanRow is a planned cost without its lines.
type costPlanRow struct {
	PaperID int64
	JobID   int64
	RowM    float64
	GrossM2 float64
}

// costPlanLineRow is one line of a planned cost.
type costPlanLineRow struct {
	PaperID  int64
	Position int
	Kind     job.CostKind
	OfID     int64
	What     string
	Quantity money.Factor
	Unit     string
	Price    money.Factor
	Amount   money.Cents
	Source   string
}

// KeepCostPlan freezes what a job was planned to cost when a quote of it was issued. A quote
// has one plan: a second one changes nothing.
func (s *Store) KeepCostPlan(ctx context.Context, a job.Act, paperID int64, c job.Cost) error {
	return s.done(ctx, a, "keep a planned cost", func(t tx) error {
		quote, err := one[paperRow](t.DB, "paper", paperID)
		if err != nil {
			return err
		}
		if quote.Kind != bill.Quote {
			return fault.Conflict("%s is no quote, a planned cost stands with a quote", quote.Number)
		}
		kept := t.Clauses(clause.OnConflict{DoNothing: true}).Create(&costPlanRow{quote.ID, quote.JobID, c.RowM, c.GrossM2})
		if kept.Error != nil || kept.RowsAffected == 0 {
			return kept.Error
		}
		for i, l := range c.Lines {
			if err := t.Create(&costPlanLineRow{quote.ID, i, l.Kind, l.ID, l.What, l.Quantity, l.Unit, l.Price, l.Amount, l.Source}).Error; err != nil {
				return err
			}
		}
		return t.tell("job", quote.JobID, "kept the planned cost of %s with %s", quote.Paddock, quote.Number)
	})
}

// costPlans is the planned costs of a job, by the quote that each stands with.
func costPlans(db *gorm.DB, jobID int64) (map[int64]job.Cost, error) {
	named := func() *gorm.DB { return db.Session(&gorm.Session{}) }
	heads, err := all[costPlanRow](named().Where("job_id = ?", jobID))
	if err != nil || len(heads) == 0 {
		return nil, err
	}
	lines, err := all[costPlanLineRow](named().Where("paper_id IN (SELECT paper_id FROM cost_plans WHERE job_id = ?)", jobID).Order("paper_id, position"))
	out := map[int64]job.Cost{}
	for _, h := range heads {
		out[h.PaperID] = job.Cost{RowM: h.RowM, GrossM2: h.GrossM2}
	}
	for _, l := range lines {
		c := out[l.PaperID]
		c.Lines = append(c.Lines, job.CostLine{Kind: l.Kind, ID: l.OfID, What: l.What, Quantity: l.Quantity, Unit: l.Unit, Price: l.Price, Amount: l.Amount, Source: l.Source})
		c.Total += l.Amount
		out[l.PaperID] = c
	}
	return out, err
}
