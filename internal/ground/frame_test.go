package ground

import (
	"encoding/json"
	"math"
	"testing"
)

func TestFrameThereAndBack(t *testing.T) {
	frame := NewFrame(LatLon{-36.4, 140.1})
	for _, at := range []Point{{0, 0}, {10000, 0}, {0, -10000}, {-8000, 12000}} {
		if back := frame.ToPlane(frame.ToEarth(at)); at.To(back) > 1e-8 {
			t.Errorf("%v came back as %v", at, back)
		}
	}
	if at := frame.ToPlane(frame.Centre()); math.Hypot(at.E, at.N) > 1e-8 {
		t.Errorf("the centre lies at %v", at)
	}
}

func TestShapeThroughGeoJSON(t *testing.T) {
	in := `{"type":"Feature","geometry":{"type":"Polygon","coordinates":[[[100,0],[101,0],[101,1],[100,1],[100,0]],[[100.8,0.8],[100.8,0.2],[100.2,0.2],[100.2,0.8],[100.8,0.8]]]}}`
	want := `{"type":"Polygon","coordinates":[[[100,0],[101,0],[101,1],[100,1],[100,0]],[[100.8,0.8],[100.8,0.2],[100.2,0.2],[100.2,0.8],[100.8,0.8]]]}`
	var shape Shape
	if err := json.Unmarshal([]byte(in), &shape); err != nil {
		t.Fatal(err)
	}
	if got, err := json.Marshal(shape); err != nil || string(got) != want {
		t.Errorf("%s, %v", got, err)
	}
}
