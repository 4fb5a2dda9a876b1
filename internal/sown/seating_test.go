package sown

import (
	"fmt"
	"slices"
	"testing"
)

// reworked drives a paddock again with one thing not as planned.
type reworked struct {
	change
	missed, doubled []int   // rows
	unplannedM      float64 // in row metres
}

// TestDriftHidesNothing skips a belt, sows one twice, drives a pass in the alley and one on
// the next belt, in logs whose error with memory moves whole passes by metres: each comes out
// as it was driven, and nothing else.
func TestDriftHidesNothing(t *testing.T) {
	belts, singles := paddock(t, 200, 500, 17, 2, 2, 12), paddock(t, 120, 500, 17, 1, 0, 6)
	beltM, singleM := 2*belts.Rows[5].Spans[0].LengthM, singles.Rows[5].Spans[0].LengthM
	for _, c := range []struct {
		name     string
		scatterM float64
		memoryS  float64
	}{{"corrected receiver", 0.02, 0}, {"1.5 m, memory 30 s", 1.5, 30}, {"1.5 m, memory 100 s", 1.5, 100}} {
		for name, one := range map[string]reworked{
			"all as planned":       {func(d []drive) []drive { return d }, nil, nil, 0},
			"a belt skipped":       {func(d []drive) []drive { return alternating(slices.Delete(d, 4, 5)) }, []int{9, 10}, nil, 0},
			"two belts skipped":    {func(d []drive) []drive { return alternating(slices.Delete(d, 4, 6)) }, []int{9, 10, 11, 12}, nil, 0},
			"a belt sown twice":    {func(d []drive) []drive { return alternating(slices.Insert(d, 4, d[4])) }, nil, []int{9, 10}, 0},
			"again at the end":     {func(d []drive) []drive { return alternating(append(d, d[3])) }, nil, []int{7, 8}, 0},
			"on the next belt":     {func(d []drive) []drive { d[6].across = d[7].across; return d }, []int{13, 14}, []int{15, 16}, 0},
			"in the alley":         {func(d []drive) []drive { d[6].across += 7; return d }, []int{13, 14}, nil, beltM},
			"beyond the last belt": {func(d []drive) []drive { return alternating(append(d, aside(d[len(d)-1], 14))) }, nil, nil, beltM},
		} {
			t.Run("belts, "+c.name+", "+name, func(t *testing.T) {
				for seed := range 6 {
					l := logger{hz: 1, speedMS: 1.9, scatterM: c.scatterM, memoryS: c.memoryS, runOutM: 4, withTime: true, asFlag: true, seed: uint64(seed)}
					r := logged(t, l, belts, one.change(farm(belts, twin)), twin, Tolerances{})
					one.check(t, fmt.Sprintf("seed %d", seed), r)
				}
			})
		}
		for name, one := range map[string]reworked{
			"a row skipped":       {func(d []drive) []drive { return alternating(slices.Delete(d, 4, 5)) }, []int{5}, nil, 0},
			"a row sown twice":    {func(d []drive) []drive { return alternating(slices.Insert(d, 4, d[4])) }, nil, []int{5}, 0},
			"beyond the last row": {func(d []drive) []drive { return alternating(append(d, aside(d[len(d)-1], 6))) }, nil, nil, singleM},
		} {
			t.Run("single rows, "+c.name+", "+name, func(t *testing.T) {
				for seed := range 6 {
					l := logger{hz: 1, speedMS: 1.9, scatterM: c.scatterM, memoryS: c.memoryS, runOutM: 4, withTime: true, asFlag: true, seed: uint64(seed)}
					r := logged(t, l, singles, one.change(farm(singles, AtAntenna)), AtAntenna, Tolerances{})
					one.check(t, fmt.Sprintf("seed %d", seed), r)
				}
			})
		}
	}
}

// aside is a drive again so many metres farther right.
func aside(d drive, byM float64) drive {
	d.across += byM
	return d
}

// check compares a record with what was driven.
func (c reworked) check(t *testing.T, name string, r Record) {
	t.Helper()
	checkLaws(t, r)
	near(t, name+", unplanned", r.UnplannedM, c.unplannedM, 0.03*r.PlannedM/float64(len(r.Rows)))
	for _, row := range r.Rows {
		if missed := row.MissedM > row.PlannedM/2; missed != slices.Contains(c.missed, row.Row) {
			t.Errorf("%s: of row %d %.1f of %.1f m are missed", name, row.Row, row.MissedM, row.PlannedM)
		}
		if doubled := row.DoubledM > row.PlannedM/2; doubled != slices.Contains(c.doubled, row.Row) {
			t.Errorf("%s: of row %d %.1f of %.1f m are doubled", name, row.Row, row.DoubledM, row.PlannedM)
		}
	}
}
