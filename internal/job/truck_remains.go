package job

import (
	"rowtally/internal/fault"
	"rowtally/internal/mix"
)

// Remains is what was found in the hoppers at a clean-out. How it splits over lots and
// medium follows from the tubs.
type Remains struct {
	MixML int64  // mL of mix, all hoppers together
	Kept  bool   // back into stock on the truck; else thrown away
	Note  string `json:",omitempty"`
}

// RemainsPart is one lot or medium of what remained, g of a lot and mL of medium.
type RemainsPart struct {
	Kind     StockKind
	Code     string // of a lot
	Name     string
	Quantity int64
}

// TriedRemains is what a clean-out comes to before it is kept.
type TriedRemains struct {
	CleanOut mix.CleanOut
	Parts    []RemainsPart
}

// TryRemains splits what remained over the tubs of the job. More than its tubs still hold
// is refused.
func (j TruckJob) TryRemains(r Remains) (out TriedRemains, err error) {
	if out.CleanOut, err = RemainsOf(j.Facts, r.MixML, r.Kept); err != nil {
		return out, err
	}
	out.CleanOut.Note = r.Note
	out.Parts = j.Facts.RemainsParts(out.CleanOut)
	return out, nil
}

// RemainsParts names what a clean-out found: its lots in order, then the medium.
func (f Facts) RemainsParts(c mix.CleanOut) (parts []RemainsPart) {
	for _, in := range c.Ingredient {
		lot, _ := f.Shelf.Lot(in.LotID)
		parts = append(parts, RemainsPart{LotStock, lot.Code, lot.CommonName, in.Grams})
	}
	product, _ := f.Shelf.Product(c.ProductID)
	return append(parts, RemainsPart{MediumStock, "", product.Name, c.MediumML})
}

func (r *Remains) check() error {
	switch {
	case r == nil:
		return given(false, "what remained")
	case len(r.Note) > 2000:
		return fault.Refuse("note", "a note has at most 2000 letters: enter what is to be remembered")
	}
	return within("left_l", "what remained, in L,", float64(r.MixML)/1000, 0.1, 100_000)
}

// cleanOut takes mix out of the hoppers as the office would: what is kept is on the truck
// again. What the office is bound to refuse changes nothing here.
func (j *TruckJob) cleanOut(e TruckEntry, id int64) {
	tried, err := j.TryRemains(*e.Remains)
	if err != nil {
		return
	}
	c := tried.CleanOut
	c.ID, c.MadeAt = id, e.At
	j.Facts.CleanOuts = append(j.Facts.CleanOuts, c)
	j.Facts.returns(c, 1)
}

// undoCleanOut puts what a clean-out found back into the hoppers.
func (f *Facts) undoCleanOut(id int64) {
	for i, c := range f.CleanOuts {
		if c.ID == id {
			f.returns(c, -1)
			f.CleanOuts = append(f.CleanOuts[:i:i], f.CleanOuts[i+1:]...)
			return
		}
	}
}

// returns gives stock back that a clean-out kept (1), or takes it again (-1).
func (f *Facts) returns(c mix.CleanOut, way int64) {
	if !c.Kept {
		return
	}
	for key, quantity := range tubStock(mix.Tub{Ingredient: c.Ingredient, ProductID: c.ProductID, MediumML: c.MediumML}) {
		f.Shelf.draw(key, -way*quantity)
	}
}
