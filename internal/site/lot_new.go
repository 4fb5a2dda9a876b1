package site

import "fmt"

func (s *site) lotNew(r *request) error {
	f := blank(map[string]string{"count_hard": "no", "retest_months": "12", "received_on": string(r.today())})
	if r.isPost() {
		f = readForm(r)
		lot := lotFrom(f, r.today())
		grams := f.thousandths("kg", 0, mostKg)
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
