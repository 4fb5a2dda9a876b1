package job

import (
	"fmt"
	"time"

	"rowtally/internal/fault"
	"rowtally/internal/mix"
)

// DrillLoad is understorey seed that went into the drill at once: how much of each lot, and
// for how many hectares, above 0, it is meant.
type DrillLoad struct {
	ID       int64
	JobID    int64
	Ha       float64
	Note     string
	MadeAt   time.Time
	PersonID int64
	Lots     []mix.Ingredient
}

// Grams is the seed of a load, all lots together.
func (l DrillLoad) Grams() (sum int64) {
	for _, in := range l.Lots {
		sum += in.Grams
	}
	return sum
}

// Most of what one load may be: more than any drill takes.
const (
	mostDrillHa    = 100_000.0
	mostDrillGrams = 1_000_000_000
)

// Check refuses a load that cannot be right. What the books forbid is decided by the store
// alone.
func (l DrillLoad) Check() error {
	if !(l.Ha > 0 && l.Ha <= mostDrillHa) {
		return fault.Refuse("ha", "%.1f ha cannot be sown, enter hectares above 0 and up to %.0f", l.Ha, mostDrillHa)
	}
	seen := map[int64]bool{}
	for _, in := range l.Lots {
		if in.Grams <= 0 || in.Grams > mostDrillGrams || seen[in.LotID] {
			return fault.Conflict("a lot goes into the drill once, with more than 0 kg. Load the page again")
		}
		seen[in.LotID] = true
	}
	if len(l.Lots) == 0 {
		return fault.Conflict("nothing goes into the drill: enter the kg of one lot at least")
	}
	return nil
}

// DrillLine is one lot of the understorey, in g: what the whole of it takes, what is in the
// drill or the ground already, and what the ledger drew for it.
type DrillLine struct {
	LotID  int64
	Code   string
	Name   string // as the farm calls the species
	Need   int64
	Loaded int64
	Drawn  int64
	OnHold string // why nothing may be sown from it; "" when it may
}

// Left is what is still to be loaded, 0 once more than enough is.
func (l DrillLine) Left() int64 { return max(0, l.Need-l.Loaded) }

// Unaccounted is what was drawn and is in no load; below 0 where more is told of than was
// drawn.
func (l DrillLine) Unaccounted() int64 { return l.Drawn - l.Loaded }

// Drill is the seed of a job's understorey against what was loaded.
type Drill struct {
	Lines    []DrillLine
	Ha       float64 // that the understorey is sown over
	LoadedHa float64 // that the loads were meant for
}

// LeftHa is what no load is meant for yet, 0 once all are.
func (d Drill) LeftHa() float64 { return max(0, d.Ha-d.LoadedHa) }

// Sums are what is loaded and what is needed of all lots together, in g.
func (d Drill) Sums() (loaded, need int64) {
	for _, l := range d.Lines {
		loaded, need = loaded+l.Loaded, need+l.Need
	}
	return loaded, need
}

// DrillOf sets what was loaded beside what the understorey takes: its lots as chosen today,
// then lots that were loaded and are not chosen any more. A job without an understorey and
// without a load is refused.
func DrillOf(f Facts) (Drill, error) {
	d := Drill{}
	if f.Understorey == nil && len(f.DrillLoads) == 0 {
		return d, fault.Conflict("%s has no understorey, so nothing goes into the drill. Choose an understorey first.", f.Job.Name)
	}
	if f.Understorey != nil {
		worked, err := f.WorkUnderstorey()
		if err != nil {
			return d, err
		}
		d.Ha = worked.Ha
		for _, need := range f.understoreyNeeds(worked) {
			d.Lines = append(d.Lines, f.drillLine(need.StockID, need.Wanted))
		}
	}
	for _, load := range f.DrillLoads {
		d.LoadedHa += load.Ha
		for _, in := range load.Lots {
			if !d.has(in.LotID) {
				d.Lines = append(d.Lines, f.drillLine(in.LotID, 0))
			}
		}
	}
	return d, nil
}

func (d Drill) has(lotID int64) bool {
	for _, l := range d.Lines {
		if l.LotID == lotID {
			return true
		}
	}
	return false
}

func (f Facts) drillLine(lotID, need int64) DrillLine {
	lot, _ := f.Shelf.Lot(lotID)
	line := DrillLine{LotID: lotID, Code: lot.Code, Name: lot.CommonName, Need: need, Loaded: f.drilled(lotID), OnHold: lot.HoldReason}
	for _, m := range f.Moved {
		if m.DrillLoadID != 0 && m.StockKind == LotStock && m.StockID == lotID {
			line.Drawn -= m.Quantity
		}
	}
	return line
}

// drilled is what was loaded of a lot, in g.
func (f Facts) drilled(lotID int64) (sum int64) {
	for _, load := range f.DrillLoads {
		for _, in := range load.Lots {
			if in.LotID == lotID {
				sum += in.Grams
			}
		}
	}
	return sum
}

// drillSays is how much of the understorey is in the drill; "" while nothing is.
func (f Facts) drillSays() string {
	d, err := DrillOf(f)
	if err != nil || len(f.DrillLoads) == 0 {
		return ""
	}
	loaded, need := d.Sums()
	return fmt.Sprintf(" Loaded into the drill: %s of %s kg.", grams(loaded), grams(need))
}
