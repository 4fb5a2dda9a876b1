package store

import (
	"context"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/mix"
)

// Products is every bulking medium, by name.
func (s *Store) Products(ctx context.Context) ([]mix.Product, error) {
	return all[mix.Product](s.reader(ctx).Order("lower(name)"))
}

// Product is one bulking medium.
func (s *Store) Product(ctx context.Context, id int64) (mix.Product, error) {
	return one[mix.Product](s.reader(ctx), "medium", id)
}

// AddProduct keeps a new medium and receives its first millilitres into the shed, at what
// its bag costs; 0 for none yet.
func (s *Store) AddProduct(ctx context.Context, a job.Act, product mix.Product, ml int64) (int64, error) {
	return s.do(ctx, a, "add a medium", func(t tx) (int64, error) {
		product.ID = 0
		if err := t.add(&product, productNamed(product)); err != nil {
			return 0, err
		}
		if err := t.openStock(job.MediumStock, product.ID, ml, product.CostOf(ml)); err != nil {
			return 0, err
		}
		return product.ID, t.tell("medium", product.ID, "added the medium %s with %s", product.Name, amount(job.MediumStock, ml))
	})
}

// ChangeProduct changes what a medium weighs, costs and is charged at; its stock stays.
func (s *Store) ChangeProduct(ctx context.Context, a job.Act, product mix.Product) error {
	return s.done(ctx, a, "change a medium", func(t tx) error {
		if err := t.change(&product, "medium", product.ID, productNamed(product)); err != nil {
			return err
		}
		return t.tell("medium", product.ID, "changed the medium %s", product.Name)
	})
}

func productNamed(product mix.Product) error {
	return fault.Refuse("name", "a medium is called %s already, open that one or choose another name", product.Name)
}
