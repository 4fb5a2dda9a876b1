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
	freeKg  float64
	why     string // it may not be used; "" when it may
}

// offers looks at every lot of a need's species, with what is free of it in grams.
func offers(n Need, free func(lotID int64) int64) []offer {
	var out []offer
	for _, lot := range n.facts.Shelf.Lots {
		if lot.Species != n.Species || lot.Layer != seed.Shrub {
			continue
		}
		o := offer{figures: n.facts.Live(lot), freeKg: float64(free(lot.ID)) / 1000}
		o.why = ruledOut(o, n.facts.Recipe.Limits)
		out = append(out, o)
	}
	return out
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
	case f.LivePerKg <= 0:
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
