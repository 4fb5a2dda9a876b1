package ground

import (
	"math"
	"testing"
)

// TestPatchIsTheProjection compares the series with the projection over the whole reach:
// there Krüger's series is good to a few nanometres itself.
func TestPatchIsTheProjection(t *testing.T) {
	for lat := -75.0; lat <= 75; lat += 7.5 {
		for _, lon := range []float64{140.1, -179.95, 0, 359.97} {
			frame := NewFrame(LatLon{lat, lon})
			patch, worst := frame.Patch(), 0.0
			for north := -patchReachDeg; north <= patchReachDeg; north += patchReachDeg / 8 {
				for east := -patchReachDeg; east <= patchReachDeg; east += patchReachDeg / 8 {
					at := LatLon{lat + north, lon + east}
					worst = max(worst, patch.ToPlane(at).To(frame.ToPlane(at)))
				}
			}
			if worst > 1e-8 {
				t.Errorf("at %g, %g the series is off by %.3g m", lat, lon, worst)
			}
		}
	}
}

// TestPatchOnTheMeridian compares it with geodesics, which know nothing of the projection.
func TestPatchOnTheMeridian(t *testing.T) {
	for lat := -70.0; lat <= 70; lat += 20 {
		patch := NewFrame(LatLon{lat, 15}).Patch()
		for _, step := range []float64{-0.1, -0.03, 0.05, 0.1} {
			at := LatLon{lat + step, 15}
			want := math.Copysign(WGS84.Between(LatLon{lat, 15}, at).DistanceM, step)
			if got := patch.ToPlane(at); math.Abs(got.N-want) > 2e-8 || got.E != 0 {
				t.Errorf("%g° from %g°: %v, geodesic %.9f m", step, lat, got, want)
			}
		}
	}
}

func TestPatchBeyondItsReach(t *testing.T) {
	for _, c := range [][2]LatLon{
		{{-36.4, 140.1}, {-36.52, 140.1}}, {{-36.4, 140.1}, {-36.4, 140.3}}, {{-36.4, 179.99}, {-36.4, -179.99}}, {{80, 10}, {80.01, 10}},
		{{-36.4, 140.1}, {48, -100}},
	} {
		frame := NewFrame(c[0])
		patch := frame.Patch()
		if got, want := patch.ToPlane(c[1]), frame.ToPlane(c[1]); got != want {
			t.Errorf("%v from %v: %v, want %v", c[1], c[0], got, want)
		}
	}
}

func BenchmarkPatch(b *testing.B) {
	frame := NewFrame(LatLon{-36.4, 140.1})
	patch := frame.Patch()
	at := LatLon{-36.41, 140.12}
	b.Run("series", func(b *testing.B) {
		for b.Loop() {
			patch.ToPlane(at)
		}
	})
	b.Run("projection", func(b *testing.B) {
		for b.Loop() {
			frame.ToPlane(at)
		}
	})
}
