package rows

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/ground"
)

func TestHeadlandPassesByHand(t *testing.T) {
	in := single(ring(0, 0, 100, 0, 100, 500, 0, 500))
	in.HeadlandM, in.HeadlandPasses = 10, 1
	p := laid(t, in) // round 80 m by 480 m; rows keep 10 m more: 20, 30, … 80, each 460 m
	near(t, "headland_row_m", p.HeadlandRowM, 2*(80+480))
	near(t, "row_m", p.RowM, 7*460)
	in.CountHeadlands = true
	near(t, "row_m with the passes", laid(t, in).RowM, 7*460+1120)
	in.HeadlandPasses, in.RowsPerBelt, in.RowGapM, in.AlleyM = 2, 2, metres(2), 8
	p = laid(t, in) // rows at 10, 12, 20 and 22 m from the fence, and the others from 30 m on
	near(t, "headland_row_m of two twin passes", p.HeadlandRowM, 4*1200-8*(10+12+20+22))
	near(t, "row_m within two passes", p.RowM-p.HeadlandRowM, 440*float64(p.RowCount))
	if p.Rows[0].OffsetM != 30 || p.HeadlandLaps != 2 || len(p.Headland) != 4 {
		t.Errorf("%+v, first row at %v", p.Totals, p.Rows[0].OffsetM)
	}

	in = single(ring(0, 0, 200, 0, 200, 100, 100, 100, 100, 200, 0, 200)) // an L: a quarter circle round its inner corner
	in.HeadlandM, in.HeadlandPasses = 10, 1
	near(t, "round an L", laid(t, in).HeadlandRowM, 180+80+90+math.Pi*10/2+90+80+180)

	in = field() // the drain of 30 m along the south-east ends in an arc on the fence of 10 m
	in.HeadlandPasses, in.Edges = 1, []Edge{{2, 3, 30}}
	arc := 30 * math.Acos(1.0/3)
	near(t, "round the end of a drain", laid(t, in).HeadlandRowM, 180+280+160+140+arc+(140-math.Sqrt(800)))

	in = field()
	in.HeadlandPasses, in.NoGoMarginM = 1, metres(5)
	in.NoGo = []NoGo{area(ring(100, -5, 120, -5, 120, 12, 100, 12))}
	near(t, "lifted at a no-go area", laid(t, in).HeadlandRowM, 2*(280+180)-30)
	in.NoGoMarginM = metres(0)
	p = laid(t, in)
	near(t, "lifted at one without a margin", p.HeadlandRowM, 2*(280+180)-20)
	if len(p.Headland[0].Runs) != 1 {
		t.Errorf("%d runs, the row is unbroken from one side of the no-go area round to the other", len(p.Headland[0].Runs))
	}
	in.LeastRowM = 1000
	near(t, "shorter than the least row", laid(t, in).HeadlandRowM, 0)
}

// The length is that of the edge of the paddock as GEOS shrinks it, arcs of 1 024 chords a
// quarter, each short of its arc by 10⁻⁷.
func TestHeadlandPassAgainstGEOS(t *testing.T) {
	geos := geosAtHand(t)
	rapid.Check(t, func(t *rapid.T) {
		in := paddocks(t)
		in.BoundaryM.Holes = nil
		in.HeadlandM = rapid.Float64Range(2, 40).Draw(t, "round")
		in.HeadlandPasses, in.RowsPerBelt = 1, 1
		p, err := Lay(in)
		if err != nil {
			t.Fatal(err)
		}
		want, err := geos.overlay(in, nil, 1024)
		if err != nil {
			t.Fatal(err)
		}
		if off := math.Abs(p.HeadlandRowM - want.edgeM); off > 1e-3+1e-6*want.edgeM {
			t.Fatalf("%v m round, GEOS has %v m", p.HeadlandRowM, want.edgeM)
		}
	})
}

// Every point of a headland row keeps its clearance exactly: from some edge, and from none less.
func TestHeadlandRowsKeepTheirClearance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := paddocks(t)
		in.HeadlandM, in.HeadlandPasses = in.HeadlandM+0.5, 2
		corners := len(in.BoundaryM.Outer)
		at := rapid.IntRange(0, corners-1).Draw(t, "edge")
		in.Edges = []Edge{{at + 1, (at+1)%corners + 1, rapid.Float64Range(0.5, 60).Draw(t, "own")}}
		p, err := Lay(in)
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range p.Headland {
			for _, run := range row.Runs {
				for _, at := range run.Path {
					if room := roomRound(in, at, row.InM); math.Abs(room) > 1e-5 {
						t.Fatalf("a row %v m in stands %v m off its clearance at %v", row.InM, room, at)
					}
					for _, hole := range in.BoundaryM.Holes {
						if off := nearest(hole, at); off < in.margin()-1e-5 {
							t.Fatalf("a row stands %v m from a hole that asks for %v m", off, in.margin())
						}
					}
				}
			}
		}
	})
}

// roomRound is how much farther from the edges of the outside a point lies than a row so much
// farther in must.
func roomRound(in Input, at ground.Point, inM float64) float64 {
	least, ring := math.Inf(1), in.BoundaryM.Outer
	for i := range ring {
		headland := in.HeadlandM
		if in.Edges[0].FromCorner == i+1 {
			headland = in.Edges[0].HeadlandM
		}
		least = min(least, distance(at, ring[i], ring[(i+1)%len(ring)])-headland-inM)
	}
	return least
}

func nearest(ring ground.Ring, at ground.Point) float64 {
	least := math.Inf(1)
	for i := range ring {
		least = min(least, distance(at, ring[i], ring[(i+1)%len(ring)]))
	}
	return least
}
