package job

import (
	"fmt"

	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// LiveBy is the contractor's choice of the live seed that a recipe's lots are weighed by.
type LiveBy string

const (
	ByLatestTest LiveBy = ""          // the test that counts, as it was found
	ByPrediction LiveBy = "predicted" // foreseen on the sowing day
	BySafeSide   LiveBy = "safe side" // the lower 95 % limit of what is foreseen, or of the test
)

// LotLimits bound the lots that may be proposed for a job. The zero LotLimits bound
// nothing; lots on hold and seed held back for other jobs are never proposed.
type LotLimits struct {
	LeastGerminationPercent float64 // on the sowing day, 0 to 100
	LargestSharePercent     float64 // of a species' live seed from one lot, above 0 up to 100; 0 for any
	OriginContains          string  // "" for any origin
	OldestFirst             bool    // before the cheapest
}

// SowingDay is the day on which the job's seed goes into the ground: the first of its
// window, or today while none is set.
func (f Facts) SowingDay() unit.Date {
	if f.Job.WindowFrom == "" {
		return f.Today
	}
	return f.Job.WindowFrom
}

// Live is what a lot is worth to the job: by the recipe's choice, on its sowing day.
func (f Facts) Live(lot seed.Lot) LotFigures {
	figures := f.Shelf.LotOn(lot, f.Today)
	if f.Recipe == nil || !figures.Tested {
		return figures
	}
	return figures.by(f.Recipe.LiveBy, f.Shelf.Decline(lot, f.Today), f.SowingDay())
}

// by weighs the lot by a choice. Hard seed is taken as the test found it. Where nothing is
// foreseen, the test stands for the sowing day.
func (f LotFigures) by(choice LiveBy, decline seed.Decline, sowing unit.Date) LotFigures {
	if choice == ByLatestTest {
		return f
	}
	foreseen, ok := decline.On(sowing)
	if !ok {
		foreseen = seed.Foreseen{Percent: f.Quality.GerminationPercent, LowPercent: f.Germination.Interval.LowPercent, HighPercent: f.Germination.Interval.HighPercent}
	}
	used := foreseen.Percent
	f.Taken = fmt.Sprintf("foreseen for %s", sowing)
	if !ok {
		f.Taken = "as tested, nothing is foreseen"
	}
	if choice == BySafeSide {
		used = foreseen.LowPercent
		f.Taken = "the safe side, " + f.Taken
	}
	f.weighAs(used)
	f.LivePerKgLow, f.LivePerKgHigh = f.livePerKgAt(foreseen.LowPercent), f.livePerKgAt(foreseen.HighPercent)
	return f
}

// livePerKgAt is the live seed of a kilogram at a germination in %.
func (f LotFigures) livePerKgAt(germinationPercent float64) float64 {
	q := f.Quality
	q.GerminationPercent = min(germinationPercent, 100-q.HardPercent)
	return f.Lot.UnitsPerKg * q.LiveFraction()
}

// LiveSays says of one lot what it is mixed by: "tested 10 Feb 2026 at 34 %, mixed by
// 31.2 %, foreseen for 10 Aug 2026 (27.9 to 34.6 live per g)".
func (f LotFigures) LiveSays() string {
	if !f.Tested {
		return "never tested"
	}
	says := fmt.Sprintf("tested %s at %d %%", f.Test.TestedOn, f.Germination.GerminationPercent)
	if f.Taken != "" {
		says += fmt.Sprintf(", mixed by %s %%, %s", unit.Grouped(f.Quality.GerminationPercent, 1), f.Taken)
	}
	return says + fmt.Sprintf(": %s live per g (95 %%: %s to %s)", unit.Grouped(f.LivePerG(), 1), unit.Grouped(f.LivePerGLow(), 1), unit.Grouped(f.LivePerGHigh(), 1))
}
