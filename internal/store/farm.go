package store

import (
	"context"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// Farms is every farm, by name.
func (s *Store) Farms(ctx context.Context) ([]job.Farm, error) {
	return all[job.Farm](s.reader(ctx).Order("lower(name)"))
}

// Farm is one farm.
func (s *Store) Farm(ctx context.Context, id int64) (job.Farm, error) {
	return one[job.Farm](s.reader(ctx), "farm", id)
}

// AddFarm keeps a new farm under a name that no other has.
func (s *Store) AddFarm(ctx context.Context, a job.Act, farm job.Farm) (int64, error) {
	return s.do(ctx, a, "add a farm", func(t tx) (int64, error) {
		farm.ID = 0
		if err := t.add(&farm, farmNamed(farm)); err != nil {
			return 0, err
		}
		return farm.ID, t.tell("farm", farm.ID, "added the farm %s", farm.Name)
	})
}

// ChangeFarm changes what the next papers will say; issued ones stand.
func (s *Store) ChangeFarm(ctx context.Context, a job.Act, farm job.Farm) error {
	return s.done(ctx, a, "change a farm", func(t tx) error {
		if err := t.change(&farm, "farm", farm.ID, farmNamed(farm)); err != nil {
			return err
		}
		return t.tell("farm", farm.ID, "changed the farm %s", farm.Name)
	})
}

func farmNamed(farm job.Farm) error {
	return fault.Refuse("name", "a farm is called %s already, open that one or choose another name", farm.Name)
}
