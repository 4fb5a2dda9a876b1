package store

import (
	"context"

	"gorm.io/gorm/clause"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/seed"
)

// speciesRetestRow is after how many months tests of a species no longer count.
type speciesRetestRow struct {
	Species string
	Months  int
}

// mostRetestMonths bounds the setting: ten years.
const mostRetestMonths = 120

// RetestMonths is the contractor's own settings, by species.
func (s *Store) RetestMonths(ctx context.Context) (map[string]int, error) {
	rows, err := all[speciesRetestRow](s.reader(ctx))
	months := map[string]int{}
	for _, r := range rows {
		months[r.Species] = r.Months
	}
	return months, err
}

// SetRetestMonths keeps after how many months tests of a species no longer count, for every
// lot of it and those to come.
func (s *Store) SetRetestMonths(ctx context.Context, a job.Act, species string, months int) error {
	return s.done(ctx, a, "set the retest months", func(t tx) error {
		if species == "" {
			return fault.Refuse("species", "no species is named, choose one of the shed")
		}
		if months < 1 || months > mostRetestMonths {
			return fault.Refuse("months", "%d months is outside what is possible, enter a whole number from 1 to %d", months, mostRetestMonths)
		}
		row := speciesRetestRow{species, months}
		err := t.Clauses(clause.OnConflict{Columns: []clause.Column{{Name: "species"}}, UpdateAll: true}).Create(&row).Error
		if err != nil {
			return err
		}
		if err := t.Model(&seed.Lot{}).Where("species = ?", species).Update("retest_months", months).Error; err != nil {
			return err
		}
		return t.tell("shed", 0, "set tests of %s to count for %d months", species, months)
	})
}
