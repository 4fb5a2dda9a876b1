package rows

import (
	"math"
	"testing"

	"rowtally/internal/ground"
	"rowtally/internal/published"
)

func ring(corners ...float64) ground.Ring {
	var r ground.Ring
	for i := 0; i < len(corners); i += 2 {
		r = append(r, ground.Point{E: corners[i], N: corners[i+1]})
	}
	return r
}

func single(outer ground.Ring, holes ...ground.Ring) Input {
	return Input{BoundaryM: &ground.Polygon{Outer: outer, Holes: holes}, RowsPerBelt: 1, AlleyM: 10, PlacementSpacingM: 3}
}

func laid(t testing.TB, in Input) Plan {
	t.Helper()
	plan, err := Lay(in)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-6*max(1, math.Abs(want)/1000)) {
		t.Errorf("%s is %.9f, by hand %.9f", what, got, want)
	}
}

func metres(v float64) *float64 { return &v }

func TestRectangleByHand(t *testing.T) {
	in := single(ring(0, 0, 100, 0, 100, 500, 0, 500))
	in.HeadlandM = 10
	p := laid(t, in) // rows at 10, 20, … 90, each from 10 to 490
	near(t, "row_m", p.RowM, 9*480)
	near(t, "paddock_m2", p.PaddockM2, 50_000)
	near(t, "driven_m", p.DrivenM, 9*480)
	if p.RowCount != 9 || p.SpanCount != 9 || p.BeltCount != 9 || p.Turns != 8 || p.Placements != 1440 {
		t.Errorf("%+v", p.Totals)
	}
	if first, last := p.Rows[0], p.Rows[8]; first.OffsetM != 10 || first.Index != 0 || last.OffsetM != 90 || last.Number != 9 {
		t.Errorf("first %+v, last %+v", first, last)
	}
}

func TestBeltsByHand(t *testing.T) {
	in := single(ring(0, 0, 100, 0, 100, 500, 0, 500))
	in.HeadlandM, in.RowsPerBelt, in.RowGapM, in.AlleyM = 10, 3, metres(2), 26
	p := laid(t, in) // pitch 30: rows at 10 12 14, 40 42 44, 70 72 74
	near(t, "pitch_m", p.PitchM, 30)
	near(t, "row_m_per_ha", p.RowMPerHa, 1000)
	near(t, "row_m", p.RowM, 9*480)
	near(t, "driven_m", p.DrivenM, 3*480)
	near(t, "net_ha", p.NetHa, 4.32)
	near(t, "alley_ha", p.AlleyHa, 4.32*26/30)
	if p.BeltCount != 3 || p.Turns != 2 || p.RowCount != 9 {
		t.Errorf("%+v", p.Totals)
	}
	for i, want := range []float64{10, 12, 14, 40, 42, 44, 70, 72, 74} {
		if row := p.Rows[i]; row.OffsetM != want || row.Belt != i/3+1 || row.Number != i+1 {
			t.Errorf("row %d: %+v", i, row)
		}
	}
}

func TestTriangleByHand(t *testing.T) {
	in := single(ring(0, 0, 100, 0, 0, 100))
	in.PhaseM = metres(5)
	near(t, "row_m", laid(t, in).RowM, 95+85+75+65+55+45+35+25+15+5)
	in.HeadlandM = 4
	want := 0.0
	for x := 5.0; x < 100; x += 10 {
		want += max(0, 100-x-4-4*math.Sqrt2)
	}
	near(t, "row_m with a headland", laid(t, in).RowM, want)
}

func TestReflexCornerIsRound(t *testing.T) {
	in := single(ring(0, 0, 100, 0, 100, 50, 50, 50, 50, 100, 0, 100))
	in.HeadlandM, in.PhaseM, in.AlleyM = 10, metres(45), 200
	p := laid(t, in) // 5 m left of the corner at 50, 50
	near(t, "row_m", p.RowM, 50-math.Sqrt(100-25)-10)
}

func TestHoleAndNoGoByHand(t *testing.T) {
	in := single(ring(0, 0, 100, 0, 100, 100, 0, 100), ring(40, 40, 40, 60, 60, 60, 60, 40))
	in.HeadlandM, in.NoGoMarginM, in.PhaseM, in.AlleyM = 5, metres(3), metres(50), 200
	p := laid(t, in)
	near(t, "row_m beside the hole", p.RowM, (37-5)+(95-63))
	if p.SpanCount != 2 || p.RowCount != 1 || p.Turns != 0 {
		t.Errorf("%+v", p.Totals)
	}
	in.BoundaryM.Holes = nil
	in.NoGo = []NoGo{{PolygonM: &ground.Polygon{Outer: ring(40, 80, 60, 80, 60, 120, 40, 120)}}}
	near(t, "row_m below the no-go area", laid(t, in).RowM, 77-5)
	near(t, "paddock_m2", laid(t, in).PaddockM2, 10_000)
}

func TestLeastRow(t *testing.T) {
	in := single(ring(0, 0, 100, 0, 0, 100))
	in.PhaseM, in.LeastRowM = metres(5), 30
	p := laid(t, in)
	near(t, "row_m", p.RowM, 95+85+75+65+55+45+35)
	near(t, "dropped_m", p.DroppedM, 25+15+5)
}

func TestRowsOnTheFence(t *testing.T) {
	for _, bearing := range []float64{0, 30, 45, 133.7, 211} {
		sin, cos := math.Sincos(bearing * math.Pi / 180)
		turned := func(corners ground.Ring) ground.Ring {
			out := make(ground.Ring, len(corners))
			for i, p := range corners {
				out[i] = ground.Point{E: 312_000 + p.E*cos + p.N*sin, N: 5_950_000 - p.E*sin + p.N*cos}
			}
			return out
		}
		for _, headland := range []float64{10.1, 7.3, 3.33, 12.7, 1. / 3} {
			width := 50 + 2*headland
			in := single(turned(ring(0, 0, width, 0, width, 300, 0, 300)))
			in.BearingDeg, in.HeadlandM = bearing, headland
			p := laid(t, in) // six rows, the outermost exactly on the headland
			near(t, "row_m along the fence", p.RowM, 6*(300-2*headland))
			in.HeadlandM, in.AlleyM = 0, width/10
			p = laid(t, in) // ten rows: the one on the right fence belongs outside
			near(t, "row_m without a headland", p.RowM, 10*300)
		}
	}
}

// Rows per hectare of published layouts, as the formula gives them and as rows laid in a
// block a whole number of pitches wide come out.
func TestPublishedRowDensities(t *testing.T) {
	for _, row := range published.Rows(t, "row_density.csv") {
		t.Run(row.Text("id"), func(t *testing.T) {
			in := Input{RowsPerBelt: int(row.Number("rows_per_belt")), AlleyM: row.Number("alley_or_row_gap_m"), PlacementSpacingM: 1}
			if row.Has("row_spacing_m") {
				in.RowGapM = metres(row.Number("row_spacing_m"))
			}
			if row.Has("plant_spacing_m") {
				in.PlacementSpacingM = row.Number("plant_spacing_m")
			}
			width := 12 * in.pitchM()
			in.BoundaryM = &ground.Polygon{Outer: ring(0, 0, width, 0, width, 800, 0, 800)}
			p := laid(t, in)
			ha := p.PaddockM2 / 10_000
			printed(t, "row_m_per_ha", p.RowMPerHa, row.Number("row_m_per_ha"))
			printed(t, "laid row metres per ha", p.RowM/ha, row.Number("row_m_per_ha"))
			if row.Has("plants_per_ha") {
				printed(t, "placements per ha", float64(p.Placements)/ha, row.Number("plants_per_ha"))
			}
		})
	}
}

// printed allows what the print rounds: half of its last digit, and half a placement.
func printed(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 0.06+want*2e-4) {
		t.Errorf("%s is %.4f, published %.4f", what, got, want)
	}
}
