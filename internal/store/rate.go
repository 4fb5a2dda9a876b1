package store

import (
	"context"
	"fmt"

	"gorm.io/gorm"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// Rates is the lines of a job's price, in their order.
func (s *Store) Rates(ctx context.Context, jobID int64) ([]bill.Rate, error) {
	return rates(s.reader(ctx), jobID)
}

func rates(db *gorm.DB, jobIDs ...int64) ([]bill.Rate, error) {
	return all[bill.Rate](of(db, "job_id", jobIDs...).Order("job_id, position"))
}

// KeepRates puts these lines in the place of a job's earlier ones, in the order given.
func (s *Store) KeepRates(ctx context.Context, a job.Act, jobID int64, rates []bill.Rate) error {
	return s.done(ctx, a, "price a job", func(t tx) error {
		j, err := locked[job.Job](t, "job", jobID)
		if err != nil {
			return err
		}
		if err := t.replaceRates(jobID, rates); err != nil {
			return err
		}
		return t.tell("job", jobID, "priced %s with %d lines", j.Code, len(rates))
	})
}

func (t tx) replaceRates(jobID int64, rates []bill.Rate) error {
	if err := t.Where("job_id = ?", jobID).Delete(&bill.Rate{}).Error; err != nil {
		return err
	}
	for i, rate := range rates {
		if err := fault.Under(fmt.Sprintf("rates[%d]", i), rate.CheckTax()); err != nil {
			return err
		}
		rate.ID, rate.JobID, rate.Position = 0, jobID, i+1
		if err := t.Create(&rate).Error; err != nil {
			return err
		}
	}
	return nil
}
