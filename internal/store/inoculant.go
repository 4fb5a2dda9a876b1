package store

import (
	"context"
	"fmt"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/seed"
)

// Inoculants are what is bought to inoculate seed, by group.
func (s *Store) Inoculants(ctx context.Context) ([]seed.Inoculant, error) {
	return all[seed.Inoculant](s.reader(ctx).Order("for_group"))
}

// KeepInoculants puts these in the place of the inoculants kept: one of a group that was kept
// before stays the same, so that what was planned with it is compared with it. Two of one
// group are refused ("inoculants[1].for_group"), as is what seed.Inoculant.Check refuses.
func (s *Store) KeepInoculants(ctx context.Context, a job.Act, list []seed.Inoculant) error {
	return s.done(ctx, a, "keep the inoculants", func(t tx) error {
		kept, err := all[seed.Inoculant](t.DB)
		if err != nil {
			return err
		}
		if err := t.Where("1 = 1").Delete(&seed.Inoculant{}).Error; err != nil {
			return err
		}
		for i, in := range list {
			in.ForGroup = strings.TrimSpace(in.ForGroup)
			err := in.Check()
			if _, twice := seed.InoculantFor(list[:i], in.ForGroup); twice && err == nil {
				err = fault.Refuse("for_group", "group %s stands here twice, enter each group once", in.ForGroup)
			}
			if err != nil {
				return fault.Under(fmt.Sprintf("inoculants[%d]", i), err)
			}
			before, _ := seed.InoculantFor(kept, in.ForGroup)
			in.ID = before.ID
			if err := t.Create(&in).Error; err != nil {
				return err
			}
		}
		return t.tell("business", 0, "kept the prices of %d inoculants", len(list))
	})
}
