package site

import "fmt"

func (s *site) lotEdit(r *request) error {
	lot, err := named(r, s.Books.Lot)
	if err != nil {
		return err
	}
	f := blank(typedLot(lot))
	back := fmt.Sprintf("/shed/lots/%d", lot.ID)
	if r.isPost() {
		f = readForm(r)
		changed := lotFrom(f, r.today())
		changed.ID, changed.HoldReason, changed.HeldOn = lot.ID, lot.HoldReason, lot.HeldOn
		if err := s.fillRetest(r, &changed); err != nil {
			return err
		}
		if f.ok() {
			if err := s.Books.ChangeLot(r.Context(), r.act(), changed); err == nil {
				return r.see(back + "?done=kept")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("shed", "Change "+lot.Code), Groups: lotGroups(), Button: "Keep the changes", Back: back,
		Lead: "Every figure of jobs not yet agreed follows. Papers that were issued keep theirs.",
	})
}
