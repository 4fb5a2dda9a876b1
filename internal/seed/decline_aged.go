package seed

import (
	"cmp"
	"fmt"
	"slices"

	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// aged is a lot that ages by the viability equation from a test on, through one store
// after another. The limits are those of the test's counts, aged likewise: what the
// published constants are off by is not in them.
type aged struct {
	fit              StorageFit
	tested           unit.Date
	start, low, high float64 // normal equivalent deviates at the test
	stays            []stay
}

// stay is a time in one store.
type stay struct {
	since     unit.Date
	sigmaDays float64
	condition StorageCondition
}

// age readies the equation. ok is false where the species has no usable constants, or the
// store is not measured for the whole time after the test.
func age(species string, test Test, conditions []StorageCondition) (a aged, ok bool) {
	after, ok := after(test.TestedOn, conditions)
	if !ok {
		return aged{}, false
	}
	fits := slices.DeleteFunc(StorageFits(species), func(f StorageFit) bool { return f.Caution() != "" })
	if len(fits) == 0 {
		return aged{}, false
	}
	last := after[len(after)-1]
	// of several fits the one by which the lot dies first
	fit := slices.MinFunc(fits, func(a, b StorageFit) int { return cmp.Compare(sigmaIn(a, last), sigmaIn(b, last)) })
	a = aged{fit: fit, tested: test.TestedOn}
	for _, c := range after {
		a.stays = append(a.stays, stay{c.Since, sigmaIn(fit, c), c})
	}
	return a, a.begin(test)
}

func sigmaIn(fit StorageFit, c StorageCondition) float64 {
	return fit.Longevity.SigmaDays(*c.MoisturePercent, *c.TemperatureC)
}

// after is the conditions from a day on, in order. The first one kept is taken to have
// held before it was written down. ok is false where one of them is not measured.
func after(day unit.Date, conditions []StorageCondition) (kept []StorageCondition, ok bool) {
	sorted := slices.SortedFunc(slices.Values(conditions), func(a, b StorageCondition) int { return cmp.Compare(a.Since, b.Since) })
	for i, c := range sorted {
		if i+1 < len(sorted) && sorted[i+1].Since <= day {
			continue
		}
		if !c.Measured() {
			return nil, false
		}
		kept = append(kept, c)
	}
	return kept, len(kept) > 0
}

// begin takes the start and its limits from the test's counts.
func (a *aged) begin(test Test) bool {
	g, err := JudgeGermination(GerminationCounts{Replicates: test.Replicates})
	if err != nil {
		return false
	}
	a.start = normalDeviate(testedPercent(g.GerminationExactPercent, &g.Seeds) / 100)
	a.low = normalDeviate(testedPercent(g.Interval.LowPercent, &g.Seeds) / 100)
	a.high = normalDeviate(testedPercent(g.Interval.HighPercent, &g.Seeds) / 100)
	return true
}

// lost is how many deviates viability has fallen from the test to a day.
func (a aged) lost(day unit.Date) float64 {
	sum := 0.0
	for i, s := range a.stays {
		from, to := max(s.since, a.tested), day
		if i == 0 {
			from = a.tested
		}
		if i+1 < len(a.stays) {
			to = min(day, a.stays[i+1].since)
		}
		sum += float64(max(0, from.DaysTo(to))) / s.sigmaDays
	}
	return sum
}

func (a aged) on(day unit.Date) Foreseen {
	lost := a.lost(day)
	return Foreseen{100 * normalShare(a.start-lost), 100 * normalShare(a.low-lost), 100 * normalShare(a.high-lost)}
}

func (a aged) says() string {
	last := a.stays[len(a.stays)-1].condition
	return fmt.Sprintf("Foreseen by the viability equation with constants published for %s (%s), at %s %% moisture and %s °C. The band carries the test's counts alone.",
		a.fit.Species, a.fit.Source, unit.Plain(*last.MoisturePercent), unit.Plain(*last.TemperatureC))
}

func (a aged) working(day unit.Date) working.Steps {
	l := a.fit.Longevity
	steps := working.Steps{}.
		Add("constants", fmt.Sprintf("KE %s, CW %s, CH %s, CQ %s", unit.Plain(l.KE), unit.Plain(l.CW), unit.Plain(l.CH), unit.Plain(l.CQ)), working.Text(a.fit.Species), "", a.fit.Source).
		Add("Ki", "normal equivalent deviate of the test of "+a.tested.String(), working.Number(a.start, 4), "deviates", storageSource)
	for _, s := range a.stays {
		steps = steps.Add("sigma, "+s.condition.Place, fmt.Sprintf("10^(KE - CW log10 m - CH t - CQ t²) at %s %% and %s °C", unit.Plain(*s.condition.MoisturePercent), unit.Plain(*s.condition.TemperatureC)),
			working.Number(s.sigmaDays, 0), "days", storageSource)
	}
	return steps.Add("lost since the test", "sum of days / sigma, store by store", working.Number(a.lost(day), 4), "deviates", storageSource)
}
