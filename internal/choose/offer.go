package choose

import (
	"fmt"
	"strings"

	"rowtally/internal/job"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// offer is one lot as one need sees it.
type offer struct {
	figures job.LotFigures
	perKg   float64 // what a kilogram gives, as the need is counted
	freeKg  float64
	why     string // it may not be used; "" when it may
}

// worths is what lots are worth by a choice on a day, worked out once: many jobs ask the
// same of one shelf.
type worths map[worth]job.LotFigures

type worth struct {
	lotID  int64
	by     job.LiveBy
	sowing unit.Date
}

func (w worths) of(f job.Facts, lot seed.Lot) job.LotFigures {
	key := worth{lot.ID, f.Recipe.LiveBy, ""}
	if key.by != job.ByLatestTest {
		key.sowing = f.SowingDay()
	}
	figures, known := w[key]
	if !known {
		figures = f.Live(lot)
		w[key] = figures
	}
	return figures
}

// offers looks at every lot of a need's species, with what is free of it in grams.
func offers(n Need, known worths, free func(lotID int64) int64) []offer {
	var out []offer
	for _, lot := range n.facts.Shelf.Lots {
		if lot.Species != n.Species || lot.Layer != n.Layer {
			continue
		}
		figures, perKg := n.worth(known, lot)
		o := offer{figures: figures, perKg: perKg, freeKg: float64(free(lot.ID)) / 1000}
		o.why = ruledOut(o, n.limits)
		out = append(out, o)
	}
	return out
}

// worth is what a lot gives to a need, by kilogram, as the need is counted.
func (n Need) worth(known worths, lot seed.Lot) (figures job.LotFigures, perKg float64) {
	if n.Layer == seed.Understorey {
		if figures = n.facts.LiveBetween(lot, n.rate); figures.PLSPercent > 0 {
			perKg = figures.CountedPerKg(n.rate)
		}
		return figures, perKg
	}
	figures = known.of(n.facts, lot)
	return figures, figures.LivePerKg
}

// ruledOut says why a lot may not supply a need.
func ruledOut(o offer, l job.LotLimits) string {
	f := o.figures
	switch {
	case f.Lot.OnHold():
		return "on hold: " + f.Lot.HoldReason
	case !f.Tested:
		return "never tested"
	case f.Due:
		return "retest overdue since " + f.DueOn.String()
	case o.perKg <= 0:
		return "no live seed"
	case o.freeKg <= 0:
		return "nothing free"
	case f.Quality.GerminationPercent < l.LeastGerminationPercent:
		return fmt.Sprintf("%s %% germination, at least %s %% is asked for", unit.Grouped(f.Quality.GerminationPercent, 1), unit.Grouped(l.LeastGerminationPercent, 1))
	case !strings.Contains(strings.ToLower(f.Lot.Origin), strings.ToLower(l.OriginContains)):
		return fmt.Sprintf("its origin does not name “%s”", l.OriginContains)
	}
	return ""
}
