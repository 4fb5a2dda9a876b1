package site

import (
	"fmt"

	"rowtally/internal/job"
)

func (s *site) lotStock(r *request) error {
	lot, err := named(r, s.Books.Lot)
	if err != nil {
		return err
	}
	shelf, err := s.Books.Shelf(r.Context())
	if err != nil {
		return err
	}
	return s.changeStock(r, stocked{
		kind: job.LotStock, id: lot.ID, name: lot.Code, unit: "kg", most: mostKg,
		back: fmt.Sprintf("/shed/lots/%d", lot.ID), standsNow: shelf.Standing(job.LotStock, lot.ID),
	})
}
