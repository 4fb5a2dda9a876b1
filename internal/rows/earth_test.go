package rows

import (
	"encoding/json"
	"math"
	"testing"

	"rowtally/internal/ground"
)

// onEarth puts a plane polygon on the earth about a centre.
func onEarth(centre ground.LatLon, p ground.Polygon) ground.Shape {
	frame := ground.NewFrame(centre)
	place := func(ring ground.Ring) ground.GeoRing {
		var out ground.GeoRing
		for _, at := range ring {
			out = append(out, frame.ToEarth(at))
		}
		return out
	}
	shape := ground.Shape{{Outer: place(p.Outer)}}
	for _, hole := range p.Holes {
		shape[0].Holes = append(shape[0].Holes, place(hole))
	}
	return shape
}

// Every span's length is compared with the geodesic between its ends, in a paddock 20 km
// across, at several latitudes.
func TestLengthsAreGroundLengths(t *testing.T) {
	for _, centre := range []ground.LatLon{{Lat: -36.4, Lon: 140.1}, {Lat: -12, Lon: 131}, {Lat: 58, Lon: -3}, {Lat: 0.5, Lon: 179.99}} {
		in := station()
		in.Boundary, in.BoundaryM = onEarth(centre, *in.BoundaryM), nil
		in.AlleyM = 211
		p := laid(t, in)
		worst, sum := 0.0, 0.0
		for _, row := range p.Rows {
			for _, span := range row.Spans {
				a, b := p.Ends(row, span)
				want := ground.WGS84.Between(p.Frame.ToEarth(a), p.Frame.ToEarth(b)).DistanceM
				sum += want
				if span.LengthM > 50 {
					worst = max(worst, math.Abs(span.LengthM/want-1))
				}
			}
		}
		if worst > 0.05e-6 || math.Abs(p.RowM/sum-1) > 0.01e-6 {
			t.Errorf("at %v a span is off by %.3f ppm, the sum by %.3f ppm", centre, worst*1e6, (p.RowM/sum-1)*1e6)
		}
		if p.RowCount < 80 {
			t.Errorf("only %d rows", p.RowCount)
		}
	}
}

// The first row runs along the true bearing at the paddock's centre, and to the right of
// the left-most corner.
func TestBearingIsTrueAtTheCentre(t *testing.T) {
	for _, bearing := range []float64{0, 37, 90, 180, 291.5} {
		in := single(nil)
		in.Boundary = onEarth(ground.LatLon{Lat: -36.4, Lon: 140.1}, ground.Polygon{Outer: wavy(ground.Point{}, 400, 12, 3)})
		in.BoundaryM, in.BearingDeg, in.HeadlandM = nil, bearing, 10
		p := laid(t, in)
		row := p.Rows[len(p.Rows)/2]
		a, b := p.Ends(row, row.Spans[0])
		line := ground.WGS84.Between(p.Frame.ToEarth(a), p.Frame.ToEarth(b))
		if off := math.Remainder(line.AzimuthDeg-bearing, 360); math.Abs(off) > 0.005 {
			t.Errorf("rows along %v run by %.4f", bearing, line.AzimuthDeg)
		}
		for i, row := range p.Rows {
			if along, offset := p.Along(p.Place(123, row.OffsetM)); math.Abs(along-123) > 1e-9 || math.Abs(offset-row.OffsetM) > 1e-9 {
				t.Errorf("row %d: place and along disagree", row.Number)
			}
			if i > 0 && row.OffsetM <= p.Rows[i-1].OffsetM {
				t.Errorf("row %d stands left of row %d", row.Number, p.Rows[i-1].Number)
			}
		}
	}
}

// An edge of GeoJSON is straight in longitude and latitude: one along a parallel keeps
// its latitude, and rows end the headland from there, not from a straight line between
// far corners, which would run 5 m off.
func TestLongEdgesFollowTheParallel(t *testing.T) {
	in := single(nil)
	in.BoundaryM, in.HeadlandM, in.AlleyM = nil, 20, 500
	if err := json.Unmarshal([]byte(`{"type":"Polygon","coordinates":[[[140,-36.1],[140.2,-36.1],[140.2,-36],[140,-36],[140,-36.1]]]}`), &in.Boundary); err != nil {
		t.Fatal(err)
	}
	p := laid(t, in)
	for _, row := range p.Rows[1 : len(p.Rows)-1] {
		a, b := p.Ends(row, row.Spans[0])
		for _, end := range []struct {
			at     ground.Point
			parall float64
		}{{a, -36.1}, {b, -36}} {
			place := p.Frame.ToEarth(end.at)
			off := ground.WGS84.Between(place, ground.LatLon{Lat: end.parall, Lon: place.Lon}).DistanceM
			if math.Abs(off-20) > 0.002 {
				t.Errorf("row %d ends %.4f m from the parallel", row.Number, off)
			}
		}
	}
}

func TestPlanAnswersAsTheContractHasIt(t *testing.T) {
	in := single(ring(0, 0, 100, 0, 100, 500, 0, 500))
	in.HeadlandM, in.ListRows = 10, true
	raw, err := json.Marshal(laid(t, in))
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		RowM float64 `json:"row_m"`
		Rows []struct {
			Row, Belt int
			Spans     []struct {
				From, To []float64
				LengthM  float64 `json:"length_m"`
			}
		}
	}
	if err := json.Unmarshal(raw, &got); err != nil {
		t.Fatal(err)
	}
	if len(got.Rows) != 9 || got.Rows[8].Row != 9 || got.Rows[8].Belt != 9 {
		t.Fatalf("%+v", got)
	}
	span := got.Rows[8].Spans[0]
	near(t, "from", span.From[0], 90)
	near(t, "from", span.From[1], 10)
	near(t, "to", span.To[1], 490)
	near(t, "length", span.LengthM, 480)
	near(t, "row_m", got.RowM, 4320)
}

// The listed ends are places on the earth: as far apart as the span is long, along the
// bearing, and within the boundary.
func TestListedEndsOnTheEarth(t *testing.T) {
	in := single(nil)
	in.Boundary = onEarth(ground.LatLon{Lat: -36.4, Lon: 140.1}, ground.Polygon{Outer: ring(-400, -300, 400, -300, 400, 300, -400, 300)})
	in.BoundaryM, in.BearingDeg, in.HeadlandM, in.AlleyM, in.ListRows = nil, 40, 25, 50, true
	raw, err := json.Marshal(laid(t, in))
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Rows []struct {
			Spans []struct {
				From, To ground.LatLon
				LengthM  float64 `json:"length_m"`
			}
		}
	}
	if err := json.Unmarshal(raw, &got); err != nil || len(got.Rows) < 10 {
		t.Fatal(len(got.Rows), err)
	}
	frame := ground.NewFrame(ground.LatLon{Lat: -36.4, Lon: 140.1})
	for i, row := range got.Rows {
		span := row.Spans[0]
		line := ground.WGS84.Between(span.From, span.To)
		if math.Abs(line.DistanceM-span.LengthM) > 1e-6 || math.Abs(line.AzimuthDeg-40) > 0.01 {
			t.Errorf("row %d of %v m: its ends make %+v", i+1, span.LengthM, line)
		}
		for _, end := range []ground.LatLon{span.From, span.To} {
			if at := frame.ToPlane(end); math.Abs(math.Max(math.Abs(at.E)-375, math.Abs(at.N)-275)) > 0.01 {
				t.Errorf("row %d ends at %v, not on the headland", i+1, at)
			}
		}
	}
}

// The fences of a paddock 600 m by 400 m follow parallels, which bow by 5 mm: by hand, its
// first row is as long as any other. Rows at 9 m and every 14 m, pairs 2 m apart: 28 belts, each
// row 600.15 m less two headlands.
func TestFirstRowAlongAParallelIsWhole(t *testing.T) {
	in := Input{RowsPerBelt: 2, RowGapM: metres(2), AlleyM: 12, HeadlandM: 9, PlacementSpacingM: 3, BearingDeg: 90,
		Boundary: ground.Shape{{Outer: ground.GeoRing{{Lat: -36.4, Lon: 140.1}, {Lat: -36.4, Lon: 140.10669}, {Lat: -36.3963953, Lon: 140.10669}, {Lat: -36.3963953, Lon: 140.1}}}}}
	for _, bearing := range []float64{90, 270} {
		in.BearingDeg, in.FenceSlackM = bearing, 0
		if strict := laid(t, in); strict.RowM > 32_400 {
			t.Errorf("along %v° without slack: %.1f row metres, the first row does not meet the bow", bearing, strict.RowM)
		}
		in.FenceSlackM = 0.1
		p := laid(t, in)
		if p.RowCount != 56 || p.BeltCount != 28 || p.SpanCount != 56 {
			t.Errorf("along %v°: %d rows, %d belts, %d spans", bearing, p.RowCount, p.BeltCount, p.SpanCount)
		}
		for _, row := range p.Rows {
			if length := row.Spans[0].LengthM; math.Abs(length-582.15) > 0.02 {
				t.Errorf("along %v° row %d is %.3f m long", bearing, row.Number, length)
			}
		}
	}
}
