package site

import (
	"fmt"

	"rowtally/internal/seed"
)

func (s *site) lotNew(r *request) error {
	f := blank(map[string]string{"count_hard": "no", "received_on": string(r.today())})
	if r.isPost() {
		f = readForm(r)
		lot := lotFrom(f, r.today())
		grams := f.thousandths("kg", 0, mostKg)
		if err := s.fillRetest(r, &lot); err != nil {
			return err
		}
		if f.ok() {
			id, err := s.Books.AddLot(r.Context(), r.act(), lot, grams)
			if err == nil {
				return r.see(fmt.Sprintf("/shed/lots/%d", id))
			}
			if err := f.take(err); err != nil {
				return err
			}
		}
	}
	stock := Field{Name: "kg", Label: "Weight received", Kind: "number", Unit: "kg", Required: true, Hint: "What went into the shed; weigh it."}
	groups := lotGroups()
	groups[0].Fields = append(groups[0].Fields, stock)
	return r.draw(f, formPage{
		Frame: r.frame("shed", "A new seed lot"), Groups: groups, Button: "Keep the lot", Back: "/shed",
		Lead: "One bagging of one species from one source. Its germination test comes next.",
	})
}

// fillRetest gives a lot its species' months where it has none of its own.
func (s *site) fillRetest(r *request, lot *seed.Lot) error {
	if lot.RetestMonths > 0 {
		return nil
	}
	set, err := s.Books.RetestMonths(r.Context())
	lot.RetestMonths = retestOf(set, lot.Species)
	return err
}
