package rows

import (
	"math"
	"testing"

	"rowtally/internal/ground"
)

// halfKilometre is a paddock of about 500 rows.
func halfKilometre() Input {
	return Input{
		BoundaryM: &ground.Polygon{Outer: wavy(ground.Point{}, 1000, 40, 5), Holes: []ground.Ring{wavy(ground.Point{E: 300}, 90, 12, 3)}},
		HeadlandM: 10, RowsPerBelt: 1, AlleyM: 4, PlacementSpacingM: 3,
	}
}

func TestSweepTellsWhatEachPlanTells(t *testing.T) {
	in := halfKilometre()
	fall := ground.Fall{EastRise: 0.01, NorthRise: -0.02}
	headings, err := Sweep(in, 15, SweepWith{Fall: &fall})
	if err != nil || len(headings) != 12 {
		t.Fatalf("%d bearings, %v", len(headings), err)
	}
	for i, h := range headings {
		in.BearingDeg = float64(15 * i)
		p := laid(t, in)
		if h.BearingDeg != in.BearingDeg || h.RowM != p.RowM || h.Spans != p.SpanCount || h.Turns != p.Turns {
			t.Errorf("%+v, laid alone %+v", h, p.Totals)
		}
		near(t, "mean span", h.MeanSpanM, p.RowM/float64(p.SpanCount))
	}
	near(t, "grade north", *headings[0].GradeFraction, -0.02)
	near(t, "grade east", *headings[6].GradeFraction, 0.01)
	near(t, "grade north-east", *headings[3].GradeFraction, -0.01*math.Sqrt2/2)
}

// sweptGrounds are grounds to sweep over: in metres, and on the earth with a drain, a no-go
// area, twin rows, a headland pass and a first row of its own.
func sweptGrounds() map[string]Input {
	gap, phase := 1.5, 17.25
	saltland := Input{
		Boundary: ground.Shape{{Outer: []ground.LatLon{{Lat: -33.1, Lon: 117.6}, {Lat: -33.1, Lon: 117.612}, {Lat: -33.108, Lon: 117.614}, {Lat: -33.111, Lon: 117.604}, {Lat: -33.106, Lon: 117.606}}}},
		NoGo: []NoGo{
			{Geometry: &ground.Geometry{Lines: [][]ground.LatLon{{{Lat: -33.101, Lon: 117.601}, {Lat: -33.107, Lon: 117.612}}}}},
			{Geometry: &ground.Geometry{Polygons: ground.Shape{{Outer: []ground.LatLon{{Lat: -33.103, Lon: 117.608}, {Lat: -33.103, Lon: 117.61}, {Lat: -33.105, Lon: 117.61}}}}}},
		},
		HeadlandM: 8, RowsPerBelt: 2, RowGapM: &gap, AlleyM: 6, PhaseM: &phase, PlacementSpacingM: 3, LeastRowM: 15, HeadlandPasses: 1, CountHeadlands: true,
	}
	return map[string]Input{"metres": halfKilometre(), "earth": saltland}
}

// Rows that are clipped together with the edges of passes come out as they do alone, at
// every bearing; and so do the passes.
func TestSweepWithAMachineLaysTheSameRows(t *testing.T) {
	for name, in := range sweptGrounds() {
		s, err := sceneOf(in)
		if err != nil {
			t.Fatal(err)
		}
		for _, machineM := range []float64{2, 2.7, 9} {
			headings, err := Sweep(in, 1, SweepWith{AlleyMachineM: machineM})
			if err != nil || len(headings) != 180 {
				t.Fatalf("%d bearings, %v", len(headings), err)
			}
			for i, h := range headings {
				in.BearingDeg = float64(i)
				p := laid(t, in)
				if math.Abs(h.RowM-p.RowM) > 1e-6 || h.Spans != p.SpanCount || h.Passes != p.Passes || h.Turns != p.Turns {
					t.Errorf("%s along %d°: %+v, laid alone %+v", name, i, h, p.Totals)
				}
				if alone := passesAlone(t, s, in, machineM); math.Abs(*h.PartFraction-alone) > 1e-9 {
					t.Errorf("%s along %d°, %v m: %v in part passes, %v clipped alone", name, i, machineM, *h.PartFraction, alone)
				}
			}
		}
	}
}

// passesAlone is the part share of passes whose edges are clipped by themselves.
func passesAlone(t *testing.T, s scene, in Input, machineM float64) float64 {
	t.Helper()
	w := work{scene: s}
	if err := w.face(in); err != nil {
		t.Fatal(err)
	}
	roomM := s.leastHeadlandM() + in.passRoomM()
	w.alleys.lay(in, w.lines, roomM, w.widthM-roomM-hairM, machineM)
	w.place(nil, w.alleys.edges)
	if err := w.clip(in); err != nil {
		t.Fatal(err)
	}
	return w.alleys.part(w.on)
}

func TestSweepRefusesItsStep(t *testing.T) {
	for _, step := range []float64{0, -1, 1e-9, 91, math.NaN()} {
		if _, err := Sweep(halfKilometre(), step, SweepWith{}); err == nil {
			t.Errorf("a step of %v was taken", step)
		}
	}
}

func BenchmarkSweepOneDegree(b *testing.B) {
	in := halfKilometre()
	for b.Loop() {
		if _, err := Sweep(in, 1, SweepWith{AlleyMachineM: 2}); err != nil {
			b.Fatal(err)
		}
	}
}
