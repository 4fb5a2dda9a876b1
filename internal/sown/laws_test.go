package sown

import (
	"math"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// TestExtentsAgainstCountingMetres compares the sums of one row with counting every metre.
func TestExtentsAgainstCountingMetres(t *testing.T) {
	const metres = 60
	drawExtents := func(t *rapid.T, name string, most int) extents {
		return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Extent {
			from := rapid.IntRange(0, metres-1).Draw(t, "from")
			return Extent{float64(from), float64(rapid.IntRange(from, metres).Draw(t, "to"))}
		}), 0, most).Draw(t, name)
	}
	rapid.Check(t, func(t *rapid.T) {
		planned, sown := drawExtents(t, "planned", 4).union(), drawExtents(t, "sown", 6)
		times := func(list extents, metre int) (n float64) {
			for _, e := range list {
				if float64(metre) >= e.FromM && float64(metre) < e.ToM {
					n++
				}
			}
			return n
		}
		var want RowSown
		for m := range metres {
			isPlanned, n := times(planned, m), times(sown, m)
			want.PlannedM += isPlanned
			want.CoveredM += isPlanned * min(n, 1)
			want.MissedM += isPlanned * (1 - min(n, 1))
			want.DoubledM += max(0, n-1)
			want.OverrunM += (1 - isPlanned) * min(n, 1)
		}
		tally := rowTally{planned: planned, sown: sown, plannedM: planned.lengthM(), groundPerPlane: 1}
		got := tally.sums()
		for m := range metres {
			if missed := times(planned, m) * (1 - min(times(sown, m), 1)); times(got.Missed, m) != missed {
				t.Fatalf("metre %d is %v times in the missed %v, counting gives %v", m, times(got.Missed, m), got.Missed, missed)
			}
		}
		if got.PlannedM != want.PlannedM || got.CoveredM != want.CoveredM || got.MissedM != want.MissedM ||
			got.DoubledM != want.DoubledM || got.OverrunM != want.OverrunM {
			t.Fatalf("%+v, counting gives %+v", got, want)
		}
	})
}

// TestEveryMetreIsAccountedFor matches logs of drives and machines at random.
func TestEveryMetreIsAccountedFor(t *testing.T) {
	plan := paddock(t, 150, 300, 211, 2, 2, 9)
	rapid.Check(t, func(rt *rapid.T) {
		machine := Implement{Rows: rapid.IntRange(1, 4).Draw(rt, "rows"), RowGapM: rapid.Float64Range(0.5, 9).Draw(rt, "gap"),
			OffsetRightM: rapid.Float64Range(-3, 3).Draw(rt, "right"), BehindM: rapid.Float64Range(-5, 5).Draw(rt, "behind")}
		l := logger{hz: rapid.SampledFrom([]float64{0.2, 1, 4}).Draw(rt, "hz"), speedMS: rapid.Float64Range(1, 4).Draw(rt, "speed"),
			scatterM: rapid.Float64Range(0, 3).Draw(rt, "scatter"), memoryS: rapid.SampledFrom([]float64{0, 20}).Draw(rt, "memory"),
			runOutM: rapid.Float64Range(0, 15).Draw(rt, "run out"), withTime: rapid.Bool().Draw(rt, "time"), asFlag: rapid.Bool().Draw(rt, "flag"),
			speeds: rapid.Bool().Draw(rt, "speeds"), dropouts: [][2]float64{{50, 50 + rapid.Float64Range(0, 100).Draw(rt, "dropout")}},
			seed: rapid.Uint64().Draw(rt, "seed")}
		drives := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) drive {
			d := drive{across: rapid.Float64Range(0, 150).Draw(t, "across"), from: rapid.Float64Range(-160, 160).Draw(t, "from"), to: rapid.Float64Range(-160, 160).Draw(t, "to")}
			d.sown = extents{{-200, rapid.Float64Range(-200, 200).Draw(t, "lifted at")}}
			return d
		}), 1, 6).Draw(rt, "drives")
		text := l.csvLog(plan, drives, machine.BehindM)
		log, err := Read("csv", text)
		if err != nil {
			return // too short a drive for a fix
		}
		r, err := Match(plan, []Log{log, log}[:rapid.IntRange(1, 2).Draw(rt, "logs")], machine, Tolerances{})
		if err != nil {
			rt.Fatal(err)
		}
		checkLaws(rt, r)
	})
}

// FuzzMatch lays scribbles over a plan: nothing may panic, and the laws hold.
func FuzzMatch(f *testing.F) {
	plan := paddock(f, 150, 300, 30, 2, 2, 9)
	f.Add([]byte{0, 0, 1, 200, 0, 1, 200, 200, 1, 0, 200, 0}, uint8(2), false)
	f.Add([]byte{100, 100, 2, 100, 100, 2, 100, 100, 1}, uint8(1), true)
	f.Fuzz(func(t *testing.T, scribble []byte, rows uint8, timed bool) {
		var log Log
		start := time.Date(2026, 7, 20, 0, 0, 0, 0, time.UTC)
		for i := 0; i+2 < len(scribble); i += 3 {
			at := plan.Place(float64(scribble[i])*1.5-190, float64(scribble[i+1])*0.8-20)
			fix := Fix{Line: i + 1, At: plan.Frame.ToEarth(at), SpeedMS: math.NaN(), HeadingDeg: notGiven,
				Sowing: Flag(scribble[i+2] % 3), Link: Link(scribble[i+2] / 3 % 3)}
			if timed {
				fix.Time = start.Add(time.Duration(i) * time.Duration(scribble[i+2]) * time.Second / 9)
			}
			log.Fixes = append(log.Fixes, fix)
		}
		machine := Implement{Rows: int(rows%5) + 1, RowGapM: 2}
		if r, err := Match(plan, []Log{log}, machine, Tolerances{}); err == nil {
			checkLaws(t, r)
		}
	})
}

func TestRepeatedIsWhatLiesInMoreThanOne(t *testing.T) {
	for _, c := range []struct{ all, want extents }{
		{extents{{0, 10}}, nil},
		{extents{{0, 10}, {10, 20}}, nil},
		{extents{{0, 10}, {5, 20}}, extents{{5, 10}}},
		{extents{{0, 30}, {5, 10}, {8, 20}, {25, 40}}, extents{{5, 20}, {25, 30}}},
		{extents{{0, 10}, {0, 10}, {0, 10}}, extents{{0, 10}}},
	} {
		if got := c.all.repeated(); !slices.Equal(got, c.want) {
			t.Errorf("%v lie in more than one of %v, want %v", got, c.all, c.want)
		}
	}
}
