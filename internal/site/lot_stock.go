package site

import (
	"fmt"

	"rowtally/internal/job"
)

func (s *site) lotStock(r *request) error {
	id, err := r.id("id")
	if err != nil {
		return err
	}
	lot, err := s.Books.Lot(r.Context(), id)
	if err != nil {
		return err
	}
	shelf, err := s.Books.Shelf(r.Context())
	if err != nil {
		return err
	}
	return s.changeStock(r, stocked{
		kind: job.LotStock, id: id, name: lot.Code, unit: "kg", most: mostKg,
		back: fmt.Sprintf("/shed/lots/%d", id), standsNow: shelf.Standing(job.LotStock, id),
	})
}
