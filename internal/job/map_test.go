package job

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/ground"
)

func TestAMapIsKeptToATenthOfAMetre(t *testing.T) {
	m := Map{
		Outline: []Ring{{{0, 0}, {100.04, 0}, {100.06, 50.25}, {-0.04, 50.349}}},
		Rows:    []Stretch{{1, 2, 3.999, -12345.678}},
	}
	text, err := m.Text()
	if err != nil {
		t.Fatal(err)
	}
	if want := `{"outline":[[[0,0],[100,0],[100.1,50.3],[0,50.3]]],"rows":[[1,2,4,-12345.7]]}`; text != want {
		t.Errorf("kept as %s, want %s", text, want)
	}
}

func TestAMapOfNoPlaceIsRefused(t *testing.T) {
	for _, place := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 2e8} {
		if text, err := (Map{Outline: []Ring{{{Metres(place), 0}}}}).Text(); err == nil || !strings.Contains(err.Error(), "is not a place") {
			t.Errorf("%v is kept as %s, %v", place, text, err)
		}
		if _, err := (Map{Sown: []Stretch{{0, 0, 0, Metres(place)}}}).Text(); err == nil {
			t.Errorf("a stretch to %v is kept", place)
		}
	}
}

func TestAMapIsReadBackAsItWasKept(t *testing.T) {
	place := rapid.Custom(func(t *rapid.T) Metres { return Metres(rapid.Float64Range(-20_000, 20_000).Draw(t, "m")) })
	stretch := rapid.Custom(func(t *rapid.T) Stretch {
		return Stretch{place.Draw(t, "e1"), place.Draw(t, "n1"), place.Draw(t, "e2"), place.Draw(t, "n2")}
	})
	rapid.Check(t, func(t *rapid.T) {
		was := Map{Outline: []Ring{{{0, 0}, {place.Draw(t, "e"), 0}}}, Rows: rapid.SliceOfN(stretch, 1, 20).Draw(t, "rows")}
		text, err := was.Text()
		if err != nil {
			t.Fatal(err)
		}
		read, drawn, err := ReadMap(text)
		if err != nil || !drawn || len(read.Rows) != len(was.Rows) {
			t.Fatalf("read back %+v, %v, %v", read, drawn, err)
		}
		for i, row := range was.Rows {
			for k := range row {
				if off := math.Abs(float64(row[k] - read.Rows[i][k])); off > 0.05+1e-9 {
					t.Fatalf("%v is read back as %v", row[k], read.Rows[i][k])
				}
			}
		}
		if again, err := read.Text(); err != nil || again != text {
			t.Fatalf("kept again it reads %s, %v", again, err)
		}
	})
}

func TestReadMapTellsNoneFromBroken(t *testing.T) {
	if _, drawn, err := ReadMap(""); drawn || err != nil {
		t.Errorf("no text: drawn %v, %v", drawn, err)
	}
	if _, drawn, err := ReadMap(`{"outline":[]}`); drawn || err != nil {
		t.Errorf("an empty map: drawn %v, %v", drawn, err)
	}
	for _, broken := range []string{"{", `{"outline":[[[1]]`, `{"rows":[["a",0,0,0]]}`} {
		if _, drawn, err := ReadMap(broken); drawn || err == nil {
			t.Errorf("%s is read: drawn %v, %v", broken, drawn, err)
		}
	}
}

// The picture of a plan holds every span of every row, at its length.
func TestThePictureHoldsEveryRow(t *testing.T) {
	laid, err := sceneOf(t, 24).Rows()
	if err != nil {
		t.Fatal(err)
	}
	m := MapOfPlan(laid)
	sum := 0.0
	for _, row := range m.Rows {
		sum += math.Hypot(float64(row[2]-row[0]), float64(row[3]-row[1]))
	}
	if len(m.Rows) != laid.SpanCount || math.Abs(sum-laid.RowM) > 0.01 || len(m.Outline) != 1 || len(m.Outline[0]) != 4 {
		t.Errorf("%d rows of %v m and an outline of %d, want %d of %v m", len(m.Rows), sum, len(m.Outline), laid.SpanCount, laid.RowM)
	}
	if c := ChainOf(sceneOf(t, 24).logged(12)); c.Map == nil || len(c.Map.Rows) != laid.SpanCount {
		t.Error("the chain shows no picture")
	}
}

func TestThePictureShowsHolesAndNoGoAreas(t *testing.T) {
	p := paddockFor(t, 24)
	text := `{"type":"Polygon","coordinates":[[[140.1,-36.4],[140.1005,-36.4],[140.1005,-36.3995],[140.1,-36.3995],[140.1,-36.4]]]}`
	if err := ReadNoGo(&p, "drain.geojson", []byte(text)); err != nil {
		t.Fatal(err)
	}
	survey, err := Survey(p)
	if err != nil {
		t.Fatal(err)
	}
	survey.Shape[0].Holes = []ground.GeoRing{{{Lat: -36.4005, Lon: 140.101}, {Lat: -36.4004, Lon: 140.101}, {Lat: -36.4004, Lon: 140.1011}}}
	m := MapOfGround(survey)
	if len(m.NoGo) != 1 || len(m.Holes) != 1 || len(m.Holes[0]) != 3 || len(m.NoGo[0]) != 4 {
		t.Errorf("%d no-go areas and %d holes are drawn", len(m.NoGo), len(m.Holes))
	}
	if open, err := Lay(p, *twinRows()); err != nil || open.RowM >= 23_990 {
		t.Errorf("with a no-go area the rows are still %v m long, %v", open.RowM, err)
	}
}
