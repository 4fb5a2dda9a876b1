package site

import (
	"fmt"

	"rowtally/internal/job"
)

// mediumPage is everything of one bulking medium.
type mediumPage struct {
	Frame
	job.MediumStanding
	BagCost, LitreCharge string
	Worth, LitreCost     string // of what is on hand, and of a litre issued now

	Unit      string
	Claims    []claimLine
	Movements []movementLine
}

func (s *site) mediumShow(r *request) error {
	product, err := named(r, s.Books.Product)
	if err != nil {
		return err
	}
	shelf, err := s.Books.Shelf(r.Context())
	if err != nil {
		return err
	}
	page := mediumPage{Frame: r.frame("shed", product.Name), Unit: "L"}
	page.MediumStanding = job.MediumStanding{Product: product, Standing: shelf.Standing(job.MediumStock, product.ID)}
	page.BagCost, page.LitreCharge = r.business.Price(product.CostPerBag, 2), r.business.Price(product.ChargePerL, 2)
	page.Worth = r.business.Money(shelf.Worth(product.ID))
	if perL, _ := shelf.MediumPrice(product.ID); perL.Sign() > 0 {
		page.LitreCost = r.business.Price(perL, 4)
	}
	if page.Claims, page.Movements, err = s.stockLines(r, job.MediumStock, product.ID, shelf); err != nil {
		return err
	}
	return r.show("medium", page)
}

func (s *site) mediumEdit(r *request) error {
	medium, err := named(r, s.Books.Product)
	if err != nil {
		return err
	}
	f := blank(typedMedium(medium))
	back := fmt.Sprintf("/shed/media/%d", medium.ID)
	if r.isPost() {
		f = readForm(r)
		changed := mediumFrom(f)
		changed.ID = medium.ID
		if f.ok() {
			if err := s.Books.ChangeProduct(r.Context(), r.act(), changed); err == nil {
				return r.see(back + "?done=kept")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("shed", "Change "+medium.Name), Button: "Keep the changes", Back: back,
		Groups: []group{{Fields: mediumFields()}},
	})
}

func (s *site) mediumStock(r *request) error {
	medium, err := named(r, s.Books.Product)
	if err != nil {
		return err
	}
	shelf, err := s.Books.Shelf(r.Context())
	if err != nil {
		return err
	}
	return s.changeStock(r, stocked{
		kind: job.MediumStock, id: medium.ID, name: medium.Name, unit: "L", most: mostLitres,
		back: fmt.Sprintf("/shed/media/%d", medium.ID), standsNow: shelf.Standing(job.MediumStock, medium.ID),
	})
}
