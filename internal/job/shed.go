package job

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"rowtally/internal/mix"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// Standing is how much of a lot (g) or a medium (mL) there is, and whose it is.
type Standing struct {
	OnHand  int64 // at both places
	AtTruck int64 // of it
	Held    int64 // held back for agreed jobs
	Free    int64 // on hand less held back
}

// Standing adds a lot's or a medium's balances and claims up.
func (s Shelf) Standing(kind StockKind, id int64) Standing {
	out := Standing{OnHand: s.OnHand(kind, id), Held: s.HeldBack(kind, id, 0), Free: s.Free(kind, id, 0)}
	for _, b := range s.Balances {
		if b.Kind == kind && b.ID == id && b.Place == Truck {
			out.AtTruck += b.OnHand
		}
	}
	return out
}

// LotStanding is one lot of the shed: what it is worth and how much of it there is.
type LotStanding struct {
	LotFigures
	Standing // g
}

// MediumStanding is one bulking medium of the shed and how much of it there is.
type MediumStanding struct {
	mix.Product
	Standing // mL
}

// Bags is the stock in bags as it comes; 0 where it comes loose.
func (m MediumStanding) Bags() float64 {
	if m.BagL == 0 {
		return 0
	}
	return float64(m.OnHand) / 1000 / m.BagL
}

// LotsOn is every lot as it stands on a day, by code.
func (s Shelf) LotsOn(day unit.Date) []LotStanding {
	out := make([]LotStanding, 0, len(s.Lots))
	for _, lot := range s.Lots {
		out = append(out, LotStanding{s.LotOn(lot, day), s.Standing(LotStock, lot.ID)})
	}
	slices.SortFunc(out, func(a, b LotStanding) int { return cmp.Compare(a.Lot.Code, b.Lot.Code) })
	return out
}

// Media is every bulking medium with its stock, by name.
func (s Shelf) Media() []MediumStanding {
	out := make([]MediumStanding, 0, len(s.Products))
	for _, p := range s.Products {
		out = append(out, MediumStanding{p, s.Standing(MediumStock, p.ID)})
	}
	slices.SortFunc(out, func(a, b MediumStanding) int { return cmp.Compare(a.Name, b.Name) })
	return out
}

// Wants tells whether a lot in stock is on hold or due a test.
func (l LotStanding) Wants() bool { return l.OnHand > 0 && (l.Lot.OnHold() || l.WantsTest()) }

// ShedSays answers what the shed wants: how many lots in stock are due a test, on hold or
// held back for jobs.
func ShedSays(lots []LotStanding) string {
	if len(lots) == 0 {
		return "No seed lot is kept yet."
	}
	var due, hold, held int
	for _, l := range lots {
		switch {
		case l.Wants() && l.Lot.OnHold():
			hold++
		case l.Wants():
			due++
		}
		if l.Held > 0 {
			held++
		}
	}
	parts := []string{"no lot is due a retest"}
	if due > 0 {
		parts[0] = number(due, "lot is", "lots are") + " due a retest"
	}
	if hold > 0 {
		parts = append(parts, number(hold, "is", "are")+" on hold")
	}
	if held > 0 {
		parts = append(parts, number(held, "is", "are")+" held back for a job")
	}
	return capital(strings.Join(parts, "; ")) + "."
}

// number writes a count with its words: "one lot is", "3 lots are".
func number(n int, one, many string) string {
	if n == 1 {
		return "one " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// UnitsPerKg turns the weight of 1000 units in g, as certificates print it, into units
// per kg. The weight must be above 0.
func UnitsPerKg(thousandUnitsG float64) float64 {
	const gramsPerKg, units = 1000, 1000
	return gramsPerKg * units / thousandUnitsG
}

// Judged says how the replicates of a test agree.
func Judged(g seed.Germination) string {
	if g.ToleratedRangePercent == nil {
		return g.Verdict
	}
	if !*g.WithinTolerance {
		return fmt.Sprintf("too far apart: highest and lowest differ by %.0f %%, at most %d %% allowed", g.RangePercent, *g.ToleratedRangePercent)
	}
	return fmt.Sprintf("agree: highest and lowest differ by %.0f %%, up to %d %% allowed", g.RangePercent, *g.ToleratedRangePercent)
}

// GerminationOf reads a test for a page; ok is false when its counts cannot be.
func GerminationOf(t seed.Test) (g seed.Germination, ok bool) {
	g, err := seed.JudgeGermination(seed.GerminationCounts{Replicates: t.Replicates})
	return g, err == nil
}
