package rows

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

// paddocks draws a concave paddock, star-shaped about its middle, some with a hole, and
// a layout for it.
func paddocks(t *rapid.T) Input {
	corners := rapid.IntRange(3, 24).Draw(t, "corners")
	radius := rapid.Float64Range(60, 600).Draw(t, "radius")
	outline := func(name string, size float64) ground.Ring {
		r := make(ground.Ring, corners)
		for i := range r {
			turn := 2 * math.Pi * (float64(i) + rapid.Float64Range(0.05, 0.95).Draw(t, name)) / float64(corners)
			d := size * rapid.Float64Range(0.5, 1).Draw(t, name)
			r[i] = ground.Point{E: d * math.Cos(turn), N: d * math.Sin(turn)}
		}
		return r
	}
	p := ground.Polygon{Outer: outline("outside", radius)}
	if corners > 6 && rapid.Bool().Draw(t, "has a hole") {
		p.Holes = append(p.Holes, outline("hole", radius/4))
	}
	n := rapid.IntRange(1, 4).Draw(t, "rows per belt")
	return Input{
		BoundaryM:   &p,
		HeadlandM:   rapid.Float64Range(0, 30).Draw(t, "headland"),
		NoGoMarginM: metres(rapid.Float64Range(0, 30).Draw(t, "margin")),
		BearingDeg:  rapid.Float64Range(0, 360).Draw(t, "bearing"),
		RowsPerBelt: n, RowGapM: metres(rapid.Float64Range(1, 4).Draw(t, "gap")),
		AlleyM:            rapid.Float64Range(3, 20).Draw(t, "alley"),
		PlacementSpacingM: 3,
	}
}

// distance is from a point to an edge, by the foot of the perpendicular.
func distance(p, a, b ground.Point) float64 {
	de, dn := b.E-a.E, b.N-a.N
	t := ((p.E-a.E)*de + (p.N-a.N)*dn) / (de*de + dn*dn)
	t = math.Max(0, math.Min(1, t))
	return math.Hypot(p.E-a.E-t*de, p.N-a.N-t*dn)
}

// room is how much farther from every edge a point lies than it must: negative nearer.
func roomAt(in Input, p ground.Point) float64 {
	least := math.Inf(1)
	for k, ring := range in.BoundaryM.Rings() {
		need := in.HeadlandM
		if k > 0 {
			need = in.margin()
		}
		for i := range ring {
			least = min(least, distance(p, ring[i], ring[(i+1)%len(ring)])-need)
		}
	}
	return least
}

// in tells whether a point lies in the paddock, by the winding of each ring about it.
func within(p ground.Polygon, at ground.Point) bool {
	for k, ring := range p.Rings() {
		turned := 0.0
		for i := range ring {
			a, b := ring[i], ring[(i+1)%len(ring)]
			turned += math.Remainder(math.Atan2(b.N-at.N, b.E-at.E)-math.Atan2(a.N-at.N, a.E-at.E), 2*math.Pi)
		}
		if (math.Abs(turned) > math.Pi) != (k == 0) {
			return false
		}
	}
	return true
}

func TestSownIsExactlyWhatIsFarEnough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := paddocks(t)
		p, err := Lay(in)
		if err != nil {
			t.Fatal(err)
		}
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		for _, row := range p.Rows {
			for _, span := range row.Spans {
				at := p.Place(span.FromM+share*(span.ToM-span.FromM), row.OffsetM)
				if room := roomAt(in, at); room < -1e-7 || !within(*in.BoundaryM, at) && room > 1e-7 {
					t.Fatalf("row %d is sown at %v, %.9f m too near", row.Number, at, -room)
				}
				for _, beyond := range []float64{span.FromM - 1e-3, span.ToM + 1e-3} {
					at := p.Place(beyond, row.OffsetM)
					if room := roomAt(in, at); room > 1e-7 && within(*in.BoundaryM, at) && !sownAt(row, beyond) {
						t.Fatalf("row %d is not sown at %v, which is far enough by %.9f m", row.Number, at, room)
					}
				}
			}
		}
	})
}

func sownAt(row Row, alongM float64) bool {
	return slices.ContainsFunc(row.Spans, func(s Span) bool { return alongM >= s.FromM && alongM <= s.ToM })
}

// Points of row lines that no span covers are too near or outside.
func TestNothingSowableIsLeftOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := paddocks(t)
		p, err := Lay(in)
		if err != nil {
			t.Fatal(err)
		}
		sown := map[int]Row{}
		for _, row := range p.Rows {
			sown[row.Index] = row
		}
		index := rapid.IntRange(0, 60).Draw(t, "index")
		n := in.RowsPerBelt
		offset := in.phase() + p.PitchM*float64(index/n) + *in.RowGapM*float64(index%n)
		along := rapid.Float64Range(-600, 600).Draw(t, "along")
		at := p.Place(along, offset)
		if room := roomAt(in, at); !sownAt(sown[index], along) && room > 1e-7 && within(*in.BoundaryM, at) {
			t.Fatalf("row index %d is not sown %.3f m along, which is far enough by %.9f m", index, along, room)
		}
	})
}

func TestTurningTheSceneChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := paddocks(t)
		p, err := Lay(in)
		if err != nil {
			t.Fatal(err)
		}
		turn := rapid.Float64Range(0, 359).Draw(t, "turn")
		sin, cos := math.Sincos(turn * math.Pi / 180)
		turned := in
		turned.BoundaryM = &ground.Polygon{}
		for k, ring := range in.BoundaryM.Rings() {
			var out ground.Ring
			for _, c := range ring {
				out = append(out, ground.Point{E: 500 + c.E*cos + c.N*sin, N: -900 - c.E*sin + c.N*cos})
			}
			if k == 0 {
				turned.BoundaryM.Outer = out
			} else {
				turned.BoundaryM.Holes = append(turned.BoundaryM.Holes, out)
			}
		}
		turned.BearingDeg = math.Mod(in.BearingDeg+turn, 360)
		q, err := Lay(turned)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(p.RowM-q.RowM) > 1e-4+1e-7*p.RowM || math.Abs(p.PaddockM2-q.PaddockM2) > 1e-6*p.PaddockM2 {
			t.Fatalf("turned by %v: %.6f m of rows became %.6f", turn, p.RowM, q.RowM)
		}
	})
}

func TestTotalsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := paddocks(t)
		in.LeastRowM = rapid.Float64Range(0, 50).Draw(t, "least")
		p, err := Lay(in)
		if err != nil {
			t.Fatal(err)
		}
		sum, spans, belts := 0.0, 0, map[int]bool{}
		for _, row := range p.Rows {
			belts[row.Index/in.RowsPerBelt] = true
			for _, span := range row.Spans {
				if span.LengthM < in.LeastRowM {
					t.Fatalf("a span of %v m is sown", span.LengthM)
				}
				sum += span.LengthM
				spans++
			}
		}
		if math.Abs(sum-p.RowM) > 1e-6 || spans != p.SpanCount || len(belts) != p.BeltCount || len(p.Rows) != p.RowCount {
			t.Fatalf("%v m in %d spans, %d belts, %d rows; told %+v", sum, spans, len(belts), len(p.Rows), p.Totals)
		}
		if p.DrivenM > p.RowM+1e-6 || p.DrivenM < p.RowM/float64(in.RowsPerBelt)-1e-6 {
			t.Fatalf("%v m driven for %v m of rows", p.DrivenM, p.RowM)
		}
		all := in
		all.LeastRowM = 0
		whole, err := Lay(all)
		if err != nil || math.Abs(whole.RowM-p.RowM-p.DroppedM) > 1e-6 {
			t.Fatalf("%v m in all are not %v sown and %v dropped, %v", whole.RowM, p.RowM, p.DroppedM, err)
		}
		wide := in
		wide.PlacementSpacingM *= 2
		half, err := Lay(wide)
		if err != nil || math.Abs(float64(p.Placements)-2*float64(half.Placements)) > 1.5 {
			t.Fatalf("%d placements at 3 m and %d at 6 m, %v", p.Placements, half.Placements, err)
		}
	})
}

func fieldOf(err error) string {
	for field := range fault.Fields(err) {
		return field
	}
	return ""
}
