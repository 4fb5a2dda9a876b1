package choose

import (
	"fmt"
	"strings"

	"rowtally/internal/job"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// Says answers whether every need has its lots, and what to buy where one has not.
func (a Allotment) Says() string {
	if len(a.Needs) == 0 {
		return "No agreed job wants seed along its rows or between them."
	}
	var short []string
	for _, need := range a.shortBySpecies() {
		short = append(short, need.shortSays())
	}
	if short == nil {
		return "Every agreed job has its lots."
	}
	return strings.Join(short, " ")
}

// shortBySpecies adds what the jobs lack up, species by species.
func (a Allotment) shortBySpecies() (short []Need) {
	for _, n := range a.Needs {
		if n.Buy == nil {
			continue
		}
		at := -1
		for i := range short {
			if short[i].Species == n.Species && short[i].Of == n.Of {
				at = i
			}
		}
		if at < 0 {
			buy := *n.Buy
			n.Buy = &buy
			short = append(short, n)
			continue
		}
		short[at].ShortLive += n.ShortLive
		short[at].Buy.Kg += n.Buy.Kg
	}
	return short
}

// shortSays says what one species lacks, and what to buy.
func (n Need) shortSays() string {
	says := fmt.Sprintf("%s%s is short of %s", strings.ToUpper(n.CommonName[:1]), n.CommonName[1:], n.Amount(n.ShortLive))
	switch {
	case n.Buy.Kg == 0:
		return says + ": buy a lot, and have it tested."
	case n.Of == BaggedGrams:
		return says + ": buy that much, and have it tested."
	}
	return says + fmt.Sprintf(": buy %s kg as alive as %s, more of what is less alive.", unit.Grouped(n.Buy.Kg, 1), n.Buy.Like.Code)
}

// Amount tells a figure in the need's measure: "800 000 live seeds", "12.3 kg of pure live
// seed".
func (n Need) Amount(v float64) string {
	if n.Of == LiveSeeds {
		return unit.Grouped(v, 0) + " " + string(LiveSeeds)
	}
	return unit.Grouped(v/1000, 1) + " kg of " + string(n.Of)
}

// Says tells what the need takes, or why it goes short.
func (n Need) Says() string {
	if n.Buy == nil {
		return "has all it asks for"
	}
	says := "short of " + n.Amount(n.ShortLive)
	if n.Buy.Kg > 0 && n.Of != BaggedGrams {
		says += fmt.Sprintf(", %s kg as alive as %s", unit.Grouped(n.Buy.Kg, 1), n.Buy.Like.Code)
	}
	return says
}

// Given is what one lot gives over all needs.
type Given struct {
	Take     // of the lot as a whole; SharePercent is not told
	LeftKg   float64
	OnHandKg float64
}

// ByLot is what each lot gives over all needs, by code.
func (a Allotment) ByLot(shelf job.Shelf) []Given {
	var out []Given
	for _, lot := range shelf.Lots {
		g := Given{OnHandKg: float64(shelf.OnHand(job.LotStock, lot.ID)) / 1000}
		for _, n := range a.Needs {
			for _, t := range n.Takes {
				if t.Lot.ID == lot.ID {
					g.Lot, g.Figures = t.Lot, t.Figures
					g.Kg += t.Kg
					g.Live += t.Live
					g.Cost += t.Cost
				}
			}
		}
		if g.Kg > 0 {
			g.LeftKg = g.OnHandKg - g.Kg
			out = append(out, g)
		}
	}
	return out
}

// For is the needs of one job along its rows, or between them.
func (a Allotment) For(jobID int64, layer seed.Layer) []Need {
	var own []Need
	for _, n := range a.Needs {
		if n.Job.ID == jobID && n.Layer == layer {
			own = append(own, n)
		}
	}
	return own
}
