package job

import (
	"fmt"
	"math"
	"slices"

	"rowtally/internal/fault"
	"rowtally/internal/mix"
	"rowtally/internal/unit"
)

// CatchTrial is a catch test as it is done: the same run a few times over, each outlet
// caught on its own, the run told in turns of the machine's wheel.
type CatchTrial struct {
	Turns      float64     // of the wheel in one run, above 0
	WheelM     float64     // loaded wheel, one turn
	Placements int         // dropped by one outlet in one run; 0 where nobody counted
	CaughtML   [][]float64 // outlet by outlet, one figure a run
}

// most bounds what anybody can have caught; they keep every sum finite.
const (
	mostCaughtML = 1_000_000
	mostOutlets  = 50
	mostRuns     = 20
)

// RunM is the length of one run.
func (t CatchTrial) RunM() float64 { return t.Turns * t.WheelM }

// Caught is the trial as one catch test. The spacing is the run over the placements
// counted in it, else as planned.
func (t CatchTrial) Caught(plannedSpacingM float64) (mix.Catch, error) {
	if err := t.check(); err != nil {
		return mix.Catch{}, err
	}
	c := mix.Catch{Outlets: len(t.CaughtML), SpacingM: plannedSpacingM, RunM: t.RunM() * float64(len(t.CaughtML[0]))}
	for _, outlet := range t.CaughtML {
		for _, ml := range outlet {
			c.CaughtML += ml
		}
	}
	if t.Placements > 0 {
		c.SpacingM = t.RunM() / float64(t.Placements)
	}
	if c.CaughtML <= 0 {
		return c, fault.Refuse("caught_ml", "nothing was caught: check that the outlets are open, and catch again")
	}
	return c, nil
}

func (t CatchTrial) check() error {
	switch {
	case !(t.Turns > 0 && t.Turns <= 1000):
		return fault.Refuse("turns", "the run is %v wheel turns: enter above 0 and up to 1000", t.Turns)
	case !(t.WheelM > 0.1 && t.WheelM <= 20):
		return fault.Refuse("wheel_m", "one turn of the wheel is %v m: enter what the loaded wheel rolls in one turn, 0.1 to 20 m", t.WheelM)
	case t.Placements < 0 || t.Placements > 10_000:
		return fault.Refuse("placements", "%d placements were counted: enter 0 to 10 000, 0 when nobody counted", t.Placements)
	case len(t.CaughtML) == 0 || len(t.CaughtML) > mostOutlets:
		return fault.Refuse("caught_ml", "%d outlets were caught: catch at least one and at most %d", len(t.CaughtML), mostOutlets)
	}
	for i, outlet := range t.CaughtML {
		if len(outlet) == 0 || len(outlet) > mostRuns || len(outlet) != len(t.CaughtML[0]) {
			return fault.Refuse("caught_ml", "outlet %d was caught %d times and outlet 1 %d times: catch every outlet in every run", i+1, len(outlet), len(t.CaughtML[0]))
		}
		if slices.ContainsFunc(outlet, func(ml float64) bool { return !(ml >= 0 && ml <= mostCaughtML) }) {
			return fault.Refuse("caught_ml", "a catch of outlet %d is no measure: enter mL from 0 to 1 000 000", i+1)
		}
	}
	return nil
}

// Spread is how far apart the catches lie, in % of their mean.
type Spread struct {
	OutletML       []float64 // mean catch of each outlet
	WithinPercent  float64   // largest difference between runs of one outlet, of that outlet's mean
	BetweenPercent float64   // largest difference between the outlets' means, of all their mean
	Says           string
}

// spreadLimit is the spread above which the catch is to be done again. Our own rule, as
// wide as the usual tolerance on both sides of the mean.
const spreadLimit = 10

// Spread judges a trial that Caught accepts.
func (t CatchTrial) Spread() (s Spread) {
	for _, outlet := range t.CaughtML {
		mean := meanOf(outlet)
		s.OutletML = append(s.OutletML, mean)
		s.WithinPercent = max(s.WithinPercent, rangePercent(outlet))
	}
	s.BetweenPercent = rangePercent(s.OutletML)
	within, between := unit.Grouped(s.WithinPercent, 0), unit.Grouped(s.BetweenPercent, 0)
	switch {
	case s.WithinPercent > spreadLimit:
		s.Says = fmt.Sprintf("The runs of one outlet lie %s %% apart, more than %d %%: look for a bridge or a loose plate and catch again.", within, spreadLimit)
	case s.BetweenPercent > spreadLimit:
		s.Says = fmt.Sprintf("The outlets lie %s %% apart, more than %d %%: set them alike and catch again.", between, spreadLimit)
	default:
		s.Says = fmt.Sprintf("Runs within %s %%, outlets within %s %%.", within, between)
	}
	return s
}

func meanOf(values []float64) float64 {
	sum := 0.0
	for _, v := range values {
		sum += v
	}
	return sum / float64(len(values))
}

// rangePercent is highest less lowest, in % of the mean; 0 where all are 0.
func rangePercent(values []float64) float64 {
	mean := meanOf(values)
	if mean == 0 {
		return 0
	}
	return math.Abs(100 * (slices.Max(values) - slices.Min(values)) / mean)
}
