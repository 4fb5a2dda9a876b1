package job

import (
	"fmt"

	"rowtally/internal/sown"
	"rowtally/internal/unit"
)

// Way is one of the three ways to tell the row-km sown: the log, the placement counter, and
// the mix used.
type Way struct {
	By    string          // "log", "counter" or "mix", as in the comparison
	Name  string          // for people
	Told  *sown.Reckoning // nil while it tells nothing
	How   string          // how it comes about, with its figures
	Wants string          // what is missing; "" when it tells
	Next  Next            // what mends it
}

// MayErr is what the way may err by, in row-km.
func (w Way) MayErr() string { return unit.Grouped(sown.MayErrKm(w.Told.UncertaintyM), 2) }

// ThreeWays sets what the log, the placement counter and the mix used tell of the rows
// beside each other. What is billed stays the log's.
func (f Facts) ThreeWays() ([]Way, sown.Comparison) {
	ways := []Way{f.byLog(), f.byCounter(), f.byMix()}
	var told []sown.Reckoning
	for _, w := range ways {
		if w.Told != nil {
			told = append(told, *w.Told)
		}
	}
	return ways, sown.Compare(told...)
}

func (w Way) tells(r sown.Reckoning, err error) Way {
	if err != nil {
		w.Wants = sentenceCase(err.Error()) + "."
		return w
	}
	w.Told = &r
	return w
}

// byLog is the log's own: also what lies off the plan, for counter and mix know no plan.
func (f Facts) byLog() Way {
	w := Way{By: "log", Name: "The machine's log"}
	if f.Sown == nil {
		w.Wants = "No log is loaded."
		return w
	}
	rowM := f.Sown.SownM
	w.How = fmt.Sprintf("%s row-km on planned rows, each pass counted", km(f.Sown.SownM))
	if f.Sown.SownBy != "place" && f.Sown.UnplannedM > 0 {
		rowM += f.Sown.UnplannedM
		w.How += fmt.Sprintf(", and %s off the plan", km(f.Sown.UnplannedM))
	}
	return w.tells(sown.Reckoning{By: "log", RowM: rowM, UncertaintyM: f.Sown.UncertaintyM}, nil)
}

// byCounter is placements times their spacing. It tells nothing while the counter was not
// read on a day on which rows were sown.
func (f Facts) byCounter() Way {
	w := Way{By: "counter", Name: "The placement counter", Next: Next{"Enter a day sheet", fmt.Sprintf("/truck/%d/day", f.Job.ID)}}
	var placements int64
	days, read := 0, 0
	for _, d := range f.DaySheets {
		if d.RowM > 0 {
			days++
		}
		if d.Placements > 0 {
			read++
			placements += d.Placements
		}
	}
	switch {
	case f.Layout == nil || read == 0:
		w.Wants = "No day sheet has a reading of the counter."
		return w
	case read < days:
		w.Wants = fmt.Sprintf("The counter was read on %d of %d day sheets.", read, days)
		return w
	}
	m, spacingM, by := f.Measured(), f.Measured().SpacingM, "as measured in the row"
	if spacingM == 0 {
		spacingM, by = f.Layout.SpacingM, "as laid, not measured"
	}
	w.How = fmt.Sprintf("%s placements ± %s %% × %s m ± %s %%, %s", unit.Grouped(float64(placements), 0), unit.Plain(m.CounterErrPercent), unit.Plain(spacingM), unit.Plain(m.SpacingErrPercent), by)
	count := float64(placements)
	return w.tells(sown.Counter{Placements: count, PlacementsUncertainty: count * m.CounterErrPercent / 100,
		SpacingM: spacingM, SpacingUncertaintyM: spacingM * m.SpacingErrPercent / 100}.Reckoning())
}

// byMix is the tubs less what came out of the hoppers again, over the litres that a row-km
// takes by the catch test or, without one, by the recipe.
func (f Facts) byMix() Way {
	w := Way{By: "mix", Name: "The mix used", Next: Next{"At the truck", fmt.Sprintf("/truck/%d", f.Job.ID)}}
	if len(f.Tubs) == 0 || f.Recipe == nil || f.Layout == nil {
		w.Wants = "No tub is mixed."
		return w
	}
	var mixedML, outML int64
	for _, tub := range f.Tubs {
		mixedML += tub.MixML
	}
	for _, c := range f.CleanOuts {
		outML += c.MixML
	}
	rate, by := f.Recipe.PlacementML/f.Layout.SpacingM, "by the recipe, no catch was made"
	if found, ok := f.CatchFound(); ok {
		rate, by = found.MixLPerKm, "by the catch test"
	}
	m, usedL := f.Measured(), float64(mixedML-outML)/1000
	w.How = fmt.Sprintf("%s L mixed, %s L out of the hoppers again, ± %s %%, ÷ %s L a row-km ± %s %%, %s",
		litres(mixedML), litres(outML), unit.Plain(m.MixErrPercent), unit.Grouped(rate, 2), unit.Plain(m.RateErrPercent), by)
	return w.tells(sown.MixUsed{UsedL: usedL, UsedUncertaintyL: usedL * m.MixErrPercent / 100,
		LPerRowKm: rate, LPerRowKmUncertainty: rate * m.RateErrPercent / 100}.Reckoning())
}
