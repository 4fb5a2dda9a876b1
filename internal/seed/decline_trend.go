package seed

import (
	"fmt"
	"math"

	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// leastTests is how many tests of its own a lot's decline is fitted to.
const leastTests = 3

// trend is a straight line through a lot's tests: the normal equivalent deviate of
// germination against days, by least squares, each test weighted by the seeds it counted.
// A line that rises is held level at the mean: no seed gets more alive in store.
type trend struct {
	first  unit.Date
	points []tested
	level  bool    // the tests show no fall
	middle float64 // weighted mean of the days
	height float64 // deviate there
	slope  float64 // deviates a day, never above 0
	spread float64 // weighted sum of squared days around the middle
	seeds  float64
	excess float64 // how much more the tests scatter than their counts allow, 1 or more
}

// tested is one test as the line sees it.
type tested struct {
	day, deviate, seeds float64
	variance            float64 // of the deviate, from the counts
}

// fitTrend fits the line to the germination tests finished by a day. ok is false with fewer
// than three, or with all of them on one day.
func fitTrend(tests []Test, day unit.Date) (t trend, ok bool) {
	for _, test := range tests {
		if test.IsA(GerminationTest) && test.TestedOn <= day && (t.first == "" || test.TestedOn < t.first) {
			t.first = test.TestedOn
		}
	}
	for _, test := range tests {
		if !test.IsA(GerminationTest) || test.TestedOn > day {
			continue
		}
		if g, err := JudgeGermination(GerminationCounts{Replicates: test.Replicates}); err == nil {
			t.points = append(t.points, pointOf(float64(t.first.DaysTo(test.TestedOn)), g))
		}
	}
	if len(t.points) < leastTests {
		return trend{}, false
	}
	return t, t.fit()
}

func pointOf(day float64, g Germination) tested {
	share, n := testedPercent(g.GerminationExactPercent, &g.Seeds)/100, float64(g.Seeds)
	deviate := normalDeviate(share)
	density := math.Exp(-deviate*deviate/2) / math.Sqrt(2*math.Pi)
	return tested{day, deviate, n, share * (1 - share) / (n * density * density)}
}

// fit finds the line; false where the tests stand on one day.
func (t *trend) fit() bool {
	for _, p := range t.points {
		t.seeds += p.seeds
		t.middle += p.seeds * p.day
		t.height += p.seeds * p.deviate
	}
	t.middle, t.height = t.middle/t.seeds, t.height/t.seeds
	for _, p := range t.points {
		t.spread += p.seeds * (p.day - t.middle) * (p.day - t.middle)
		t.slope += p.seeds * (p.day - t.middle) * p.deviate
	}
	if t.spread == 0 {
		return false
	}
	t.slope /= t.spread
	if t.level = t.slope >= 0; t.level {
		t.slope = 0
	}
	t.scatter()
	return true
}

// scatter compares how far the tests lie from the line with what their counts allow.
func (t *trend) scatter() {
	free := float64(len(t.points) - 2)
	if t.level {
		free++
	}
	chi := 0.0
	for _, p := range t.points {
		off := p.deviate - t.at(p.day)
		chi += off * off / p.variance
	}
	t.excess = max(1, chi/free)
}

func (t trend) at(day float64) float64 { return t.height + t.slope*(day-t.middle) }

// errorAt is the standard error of the line on a day, in deviates: each test's own
// variance carried through its weight, widened by the excess.
func (t trend) errorAt(day float64) float64 {
	variance := 0.0
	for _, p := range t.points {
		pull := p.seeds / t.seeds
		if !t.level {
			pull += p.seeds * (p.day - t.middle) * (day - t.middle) / t.spread
		}
		variance += pull * pull * p.variance
	}
	return math.Sqrt(variance * t.excess)
}

func (t trend) on(date unit.Date) Foreseen {
	day := float64(t.first.DaysTo(date))
	reach := normalDeviate((1+CertificateLevel)/2) * t.errorAt(day)
	return Foreseen{100 * normalShare(t.at(day)), 100 * normalShare(t.at(day)-reach), 100 * normalShare(t.at(day)+reach)}
}

func (t trend) says() string {
	if t.level {
		return fmt.Sprintf("Its %d tests show no fall: their mean is held.", len(t.points))
	}
	return fmt.Sprintf("Foreseen from its own %d tests: germination falls by one normal deviate in %s days.", len(t.points), unit.Plain(math.Round(-1/t.slope)))
}

func (t trend) working(date unit.Date) working.Steps {
	day := float64(t.first.DaysTo(max(date, t.first)))
	const fitted = "least squares on the deviates of the tests, weighted by seeds"
	return working.Steps{}.
		Add("tests fitted", "germination tests from "+t.first.String()+" on", working.Number(float64(len(t.points)), 0), "", "").
		Add("slope", fitted+"; never above 0", working.Number(t.slope*365, 3), "deviates a year", "").
		Add("scatter beyond the counts", "chi-squared / degrees of freedom, 1 or more", working.Number(t.excess, 2), "", "").
		Add("deviate", fmt.Sprintf("the line after %.0f days", day), working.Number(t.at(day), 4), "deviates", storageSource).
		Add("its standard error", "the tests' binomial variances carried through the line", working.Number(t.errorAt(day), 4), "deviates", "")
}
