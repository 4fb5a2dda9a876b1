package site

import (
	"fmt"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/seed"
)

// lotSplit bags part of a lot under a code of its own.
func (s *site) lotSplit(r *request) error {
	lot, err := named(r, s.Books.Lot)
	if err != nil {
		return err
	}
	shelf, err := s.Books.Shelf(r.Context())
	if err != nil {
		return err
	}
	f := blank(map[string]string{"code": lot.Code + "-B"})
	if r.isPost() {
		f = readForm(r)
		code := f.must("code", "Enter a code of its own.")
		grams := f.thousandths("quantity", leastAmount, mostKg)
		if f.ok() {
			if part, err := s.Books.SplitLot(r.Context(), r.act(), lot.ID, code, grams); err == nil {
				return r.see(lotPath(part) + "?done=kept")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	standing := shelf.Standing(job.LotStock, lot.ID)
	return r.draw(f, formPage{
		Frame: r.frame("shed", "Split "+lot.Code), Button: "Split it off", Back: lotPath(lot.ID),
		Lead: fmt.Sprintf("%s kg are free; only seed that lies in the shed is split off. Label, tests and store go with it; its tests are known as copied.", amount(standing.Free)),
		Groups: []group{{Fields: []Field{
			{Name: "code", Label: "Code of the new lot", Required: true},
			{Name: "quantity", Label: "How much goes over", Kind: "number", Unit: "kg", Required: true},
		}}},
	})
}

// lotBlend pours seed of several lots of one species together.
func (s *site) lotBlend(r *request) error {
	shelf, err := s.Books.Shelf(r.Context())
	if err != nil {
		return err
	}
	choices := blendGroups(shelf)
	if choices == nil {
		return fault.Conflict("No species has two lots with free seed, so there is nothing to blend.")
	}
	f := blank(nil)
	if r.isPost() {
		f = readForm(r)
		sources := f.blendSources(shelf)
		lot := seed.Lot{Code: f.must("code", "Enter a code of its own."), ReceivedOn: r.today(), Note: f.text("note")}
		if f.ok() {
			if id, err := s.Books.BlendLots(r.Context(), r.act(), lot, sources); err == nil {
				return r.see(lotPath(id) + "?done=kept")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("shed", "Blend lots"), Button: "Blend them", Back: "/shed",
		Lead:   "Lots of one species, poured together in the shed. Purity, units, live seed and cost follow from the weights; the oldest test rules.",
		Groups: append([]group{{Fields: []Field{{Name: "code", Label: "Code of the blend", Required: true}, {Name: "note", Label: "Note"}}}}, choices...),
	})
}

// blendGroups is a field for each lot that could go in, by species. Species with one lot
// alone have nothing to be blended with.
func blendGroups(shelf job.Shelf) []group {
	bySpecies := map[string][]Field{}
	var order []string
	for _, lot := range shelf.Lots {
		free := shelf.Standing(job.LotStock, lot.ID).Free
		if free <= 0 || lot.OnHold() {
			continue
		}
		name := lot.CommonName + ", " + lot.Species
		if bySpecies[name] == nil {
			order = append(order, name)
		}
		bySpecies[name] = append(bySpecies[name], Field{Name: partField(lot.ID), Label: lot.Code, Kind: "number", Unit: "kg", Hint: amount(free) + " kg free; " + lot.Form + "."})
	}
	var groups []group
	for _, name := range order {
		if len(bySpecies[name]) > 1 {
			groups = append(groups, group{Heading: strings.ToUpper(name[:1]) + name[1:], Fields: bySpecies[name]})
		}
	}
	return groups
}

func partField(lotID int64) string { return fmt.Sprintf("kg_%d", lotID) }

func (f *form) blendSources(shelf job.Shelf) []seed.Source {
	var sources []seed.Source
	for _, lot := range shelf.Lots {
		if name := partField(lot.ID); f.typed[name] != "" {
			sources = append(sources, seed.Source{SourceID: lot.ID, Grams: f.thousandths(name, leastAmount, mostKg)})
		}
	}
	return sources
}
