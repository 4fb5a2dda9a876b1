package job

import (
	"slices"

	"rowtally/internal/count"
	"rowtally/internal/machine"
	"rowtally/internal/mix"
)

// With is the job as it stands once the entries are applied in order, as the office will
// apply them. Nouns that an entry made carry its place in the list as a number below
// zero: -1 for the first. The job itself is not changed.
func (j TruckJob) With(entries []TruckEntry) TruckJob {
	j.Facts = j.Facts.loosened()
	j.Kept, j.Drill = slices.Clone(j.Kept), j.Drill.loosened()
	for i, e := range entries {
		if e.JobID == j.Facts.Job.ID {
			j.apply(e, -int64(i+1), entries)
		}
	}
	return j
}

// loosened is a copy whose lists may be added to without changing the facts themselves.
func (f Facts) loosened() Facts {
	f.Tubs, f.Catches, f.DaySheets = slices.Clone(f.Tubs), slices.Clone(f.Catches), slices.Clone(f.DaySheets)
	f.Counts, f.DrillLoads = slices.Clone(f.Counts), slices.Clone(f.DrillLoads)
	f.CleanOuts, f.Shelf.Balances = slices.Clone(f.CleanOuts), slices.Clone(f.Shelf.Balances)
	return f
}

func (j *TruckJob) apply(e TruckEntry, id int64, all []TruckEntry) {
	f := &j.Facts
	switch {
	case e.Kind == TubEntry && e.Tub != nil:
		f.mixTub(*e.Tub, id)
	case e.Kind == CatchEntry && e.Catch != nil && f.Layout != nil:
		if caught, err := e.Catch.Caught(f.Layout.SpacingM); err == nil {
			caught.ID, caught.JobID, caught.CaughtAt = id, e.JobID, e.At
			f.Catches = append(f.Catches, caught)
		}
	case e.Kind == DayEntry && e.Day != nil:
		sheet := *e.Day
		sheet.ID = id
		f.DaySheets = append(f.DaySheets, sheet)
	case e.Kind == CleanOutEntry && e.Remains != nil:
		j.cleanOut(e, id)
	case e.Kind == DrillEntry && e.Drill != nil:
		j.loadDrill(*e.Drill, id)
	case e.Kind == CountEntry && e.Count != nil:
		taken := *e.Count
		taken.ID, taken.JobID = id, e.JobID
		f.Counts = append(f.Counts, taken)
	case e.Kind == UndoEntry && e.Undoes != nil:
		j.undo(*e.Undoes, all)
	default:
		j.Kept = append(j.Kept, e)
	}
}

// mixTub adds a tub as the office would: under its own number, or the job's next, drawn
// from the truck while it has some, then from the shed.
func (f *Facts) mixTub(tub mix.Tub, id int64) {
	if tub.ID = id; tub.Number == 0 {
		tub.Number = 1
		if n := len(f.Tubs); n > 0 {
			tub.Number = f.Tubs[n-1].Number + 1
		}
	}
	f.Tubs = append(f.Tubs, tub)
	for key, quantity := range tubStock(tub) {
		f.Shelf.draw(key, quantity)
	}
}

// pile is the stock of one lot or medium.
type pile struct {
	kind StockKind
	id   int64
}

// tubStock is what a tub takes of each lot and of its medium, in g and mL.
func tubStock(tub mix.Tub) map[pile]int64 {
	out := map[pile]int64{{MediumStock, tub.ProductID}: tub.MediumML}
	for _, part := range tub.Ingredient {
		out[pile{LotStock, part.LotID}] += part.Grams
	}
	return out
}

// draw takes stock, from the truck first; a quantity below zero gives it back.
func (s *Shelf) draw(key pile, quantity int64) {
	for _, place := range []Place{Truck, Shed} {
		for i := range s.Balances {
			b := &s.Balances[i]
			if b.Kind == key.kind && b.ID == key.id && b.Place == place {
				taken := min(quantity, b.OnHand)
				b.OnHand, quantity = b.OnHand-taken, quantity-taken
			}
		}
	}
}

func (j *TruckJob) undo(u Undone, all []TruckEntry) {
	id := u.ID
	if at := slices.IndexFunc(all, func(e TruckEntry) bool { return u.Key != "" && e.Key == u.Key }); at >= 0 {
		id, u.Kind = -int64(at+1), all[at].Kind
	}
	j.Kept = slices.DeleteFunc(j.Kept, func(e TruckEntry) bool { return u.Key != "" && e.Key == u.Key })
	f := &j.Facts
	switch u.Kind {
	case TubEntry:
		f.unmixTub(id)
	case CatchEntry:
		for i := range f.Catches {
			f.Catches[i].Withdrawn = f.Catches[i].Withdrawn || f.Catches[i].ID == id
		}
	case CleanOutEntry:
		f.undoCleanOut(id)
	case DrillEntry:
		j.unloadDrill(id)
	case CountEntry:
		f.Counts = slices.DeleteFunc(f.Counts, func(c count.Count) bool { return c.ID == id })
	case DayEntry:
		f.DaySheets = slices.DeleteFunc(f.DaySheets, func(d machine.DaySheet) bool { return d.ID == id })
	}
}

func (f *Facts) unmixTub(id int64) {
	at := slices.IndexFunc(f.Tubs, func(t mix.Tub) bool { return t.ID == id })
	if at < 0 {
		return
	}
	for key, quantity := range tubStock(f.Tubs[at]) {
		f.Shelf.draw(key, -quantity)
	}
	f.Tubs = slices.Delete(f.Tubs, at, at+1)
}
