package sown

import (
	"fmt"
	"math"
	"testing"
)

var twin = Implement{Rows: 2, RowGapM: 2}

// near fails when got is farther from want than within.
func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.3f, want %.3f within %g", what, got, want, within)
	}
}

// checkLaws fails unless every metre is accounted for.
func checkLaws(t interface {
	Helper()
	Errorf(string, ...any)
}, r Record) {
	t.Helper()
	const tiny = 1e-6
	var planned, covered, missed, doubled, overrun float64
	for _, row := range r.Rows {
		if math.Abs(row.CoveredM+row.MissedM-row.PlannedM) > tiny || row.CoveredM < 0 || row.MissedM < 0 || row.DoubledM < 0 || row.OverrunM < 0 {
			t.Errorf("row %d: %+v", row.Row, row)
		}
		planned, covered, missed = planned+row.PlannedM, covered+row.CoveredM, missed+row.MissedM
		doubled, overrun = doubled+row.DoubledM, overrun+row.OverrunM
	}
	for _, lap := range r.Headland {
		if math.Abs(lap.CoveredM+lap.MissedM-lap.PlannedM) > tiny || lap.CoveredM < 0 || lap.MissedM < 0 || lap.DoubledM < 0 {
			t.Errorf("headland: %+v", lap)
		}
		planned, covered, missed, doubled = planned+lap.PlannedM, covered+lap.CoveredM, missed+lap.MissedM, doubled+lap.DoubledM
	}
	for _, law := range []struct {
		words    string
		one, two float64
	}{
		{"covered + missed = planned", r.CoveredM + r.MissedM, r.PlannedM},
		{"covered + doubled + overrun = sown", r.CoveredM + r.DoubledM + r.OverrunM, r.SownM},
		{"planned of the rows", planned, r.PlannedM},
		{"covered of the rows", covered, r.CoveredM},
		{"missed of the rows", missed, r.MissedM},
		{"doubled of the rows", doubled, r.DoubledM},
		{"overrun of the rows", overrun, r.OverrunM},
	} {
		if !(math.Abs(law.one-law.two) <= tiny) {
			t.Errorf("%s: %.9f and %.9f", law.words, law.one, law.two)
		}
	}
}

// TestSownLengthIsTrueWithoutTheState drives a job of 24 row-km whose log does not tell the
// implement's state, with times and without: no pass may be lost, and errors must be as small
// one way as the other.
func TestSownLengthIsTrueWithoutTheState(t *testing.T) {
	plan := paddock(t, 400, 500, 17, 2, 2, 12)
	for _, c := range []struct {
		hz, scatterM, memoryS float64
		seeds                 int
		within                float64 // fraction, for every seed
		meanWithin            float64 // fraction, for their mean
	}{
		{1, 0.02, 0, 4, 0.002, 0.0005},
		{10, 0.02, 30, 2, 0.002, 0.0005},
		{1, 0.3, 30, 4, 0.002, 0.0005},
		{1, 1.5, 30, 8, 0.005, 0.001},
		{1, 1.5, 100, 8, 0.005, 0.001},
		{1, 1.5, 0, 4, 0.005, 0.001},
		{10, 1.5, 30, 2, 0.005, 0.002},
	} {
		t.Run(fmt.Sprintf("%g Hz, %g m, memory %g s", c.hz, c.scatterM, c.memoryS), func(t *testing.T) {
			sum := 0.0
			for seed := range c.seeds {
				l := logger{hz: c.hz, speedMS: 1.9, scatterM: c.scatterM, memoryS: c.memoryS, runOutM: 4, withTime: seed%2 == 0, seed: uint64(seed)}
				drives := farm(plan, twin)
				r := logged(t, l, plan, drives, twin, Tolerances{})
				checkLaws(t, r)
				truth := truthM(drives, twin)
				near(t, fmt.Sprintf("seed %d", seed), r.SownM, truth, c.within*truth)
				if r.Passes != len(drives) {
					t.Errorf("seed %d: %d passes of %d", seed, r.Passes, len(drives))
				}
				sum += r.SownM/truth - 1
			}
			near(t, "mean error", sum/float64(c.seeds), 0, c.meanWithin)
		})
	}
}

// alternating turns drives round so that each starts at the end where the last one stopped.
func alternating(drives []drive) []drive {
	for i := 1; i < len(drives); i++ {
		if (drives[i].to > drives[i].from) == (drives[i-1].to > drives[i-1].from) {
			drives[i].from, drives[i].to = drives[i].to, drives[i].from
		}
	}
	return drives
}

// change alters the drives of a farm.
type change func([]drive) []drive

func TestWhatIsNotAsPlanned(t *testing.T) {
	plan := paddock(t, 120, 500, 300, 1, 0, 4)
	lengthM := plan.Rows[0].Spans[0].LengthM
	shorter := func(i int, byM float64) change {
		return func(d []drive) []drive {
			sense := math.Copysign(1, d[i].to-d[i].from)
			e := d[i].sown[0]
			if sense > 0 {
				e.ToM -= byM
			} else {
				e.FromM += byM
			}
			d[i].sown = extents{e}
			if byM < 0 {
				d[i].to -= sense * byM
			}
			return d
		}
	}
	for name, c := range map[string]struct {
		change
		covered, missed, doubled, overrun, unplanned float64
		placeToo                                     bool // it shows without the implement's state too
	}{
		"all rows":        {func(d []drive) []drive { return d }, 0, 0, 0, 0, 0, true},
		"a row missed":    {func(d []drive) []drive { return alternating(append(d[:7], d[8:]...)) }, -lengthM, lengthM, 0, 0, 0, true},
		"a row doubled":   {func(d []drive) []drive { return append(d[:8], append([]drive{d[6], d[7]}, d[8:]...)...) }, 0, 0, 2 * lengthM, 0, 0, true},
		"a short row":     {shorter(5, 60), -60, 60, 0, 0, 0, false},
		"an overrun":      {shorter(5, -15), 0, 0, 0, 15, 0, false},
		"between the row": {func(d []drive) []drive { d[9].across += 1.7; return d }, 0, 0, 0, 0, 0, true},
		"off the paddock": {func(d []drive) []drive { last := d[len(d)-1]; last.across += 9; return alternating(append(d, last)) }, 0, 0, 0, 0, lengthM, false},
	} {
		for _, asFlag := range []bool{true, false} {
			if !asFlag && !c.placeToo {
				continue
			}
			t.Run(fmt.Sprintf("%s, flag %v", name, asFlag), func(t *testing.T) {
				l := rtk
				l.asFlag, l.runOutM, l.hz = asFlag, 0, 5
				r := logged(t, l, plan, c.change(farm(plan, AtAntenna)), AtAntenna, Tolerances{})
				checkLaws(t, r)
				near(t, "covered", r.CoveredM, r.PlannedM+c.covered, 8)
				near(t, "missed", r.MissedM, c.missed, 8)
				near(t, "doubled", r.DoubledM, c.doubled, 2)
				near(t, "overrun", r.OverrunM, c.overrun, 8)
				near(t, "unplanned", r.UnplannedM, c.unplanned, 2)
			})
		}
	}
}

func TestPlannedLengthIsThePlans(t *testing.T) {
	plan := paddock(t, 400, 500, 17, 2, 2, 12)
	r := logged(t, rtk, plan, farm(plan, twin)[:3], twin, Tolerances{})
	if r.PlannedM != plan.RowM {
		t.Errorf("planned %v m, the plan has %v", r.PlannedM, plan.RowM)
	}
}

// TestLengthsAreOnTheGround compares a row far from the plan's centre, where the plane is
// stretched, with its length on the ellipsoid.
func TestLengthsAreOnTheGround(t *testing.T) {
	plan := paddock(t, 24_000, 400, 0, 1, 0, 200)
	first := farm(plan, AtAntenna)[:1]
	r := logged(t, rtk, plan, first, AtAntenna, Tolerances{})
	truth := plan.Rows[0].Spans[0].LengthM
	planeM := plan.Rows[0].Spans[0].ToM - plan.Rows[0].Spans[0].FromM
	if stretch := planeM/truth - 1; stretch < 1e-6 {
		t.Fatalf("the plane is stretched by %g alone, the test shows nothing", stretch)
	}
	near(t, "row", r.Rows[0].CoveredM, truth, 2)
	near(t, "ground per plane", r.Rows[0].GroundPerPlane, truth/planeM, 1e-9)
}

// TestLiftedOverADrain has a drain across all rows, with the machine driven straight on
// and lifted over it.
func TestLiftedOverADrain(t *testing.T) {
	bare := paddock(t, 240, 500, 45, 2, 2, 12)
	a, b := bare.Frame.ToEarth(bare.Place(90, -50)), bare.Frame.ToEarth(bare.Place(130, 290))
	drain := fmt.Sprintf(`{"type":"LineString","coordinates":[[%.9f,%.9f],[%.9f,%.9f]]}`, a.Lon, a.Lat, b.Lon, b.Lat)
	plan := paddock(t, 240, 500, 45, 2, 2, 12, drain)
	if plan.SpanCount != 2*plan.RowCount {
		t.Fatal("the drain should cut every row")
	}
	for _, asFlag := range []bool{true, false} {
		l := rtk
		l.asFlag, l.hz, l.runOutM = asFlag, 5, 2
		drives := farm(plan, twin)
		r := logged(t, l, plan, drives, twin, Tolerances{})
		checkLaws(t, r)
		near(t, fmt.Sprintf("sown, flag %v", asFlag), r.SownM, truthM(drives, twin), 0.001*plan.RowM)
		near(t, fmt.Sprintf("covered, flag %v", asFlag), r.CoveredM, plan.RowM, 0.001*plan.RowM)
	}
}
