package site

import "fmt"

func (s *site) lotHold(r *request) error {
	id, err := r.id("id")
	if err != nil {
		return err
	}
	f := readForm(r)
	reason := f.must("reason", "Say why nothing may be mixed from it: the operator reads this at the truck.")
	if f.ok() {
		if err := s.Books.HoldLot(r.Context(), r.act(), id, r.today(), reason); err == nil {
			return r.see(fmt.Sprintf("/shed/lots/%d?done=held", id))
		} else if err := f.take(err); err != nil {
			return err
		}
	}
	return s.drawLot(r, f)
}

func (s *site) lotFree(r *request) error {
	id, err := r.id("id")
	if err != nil {
		return err
	}
	if err := s.Books.FreeLot(r.Context(), r.act(), id); err != nil {
		return err
	}
	return r.see(fmt.Sprintf("/shed/lots/%d?done=freed", id))
}
