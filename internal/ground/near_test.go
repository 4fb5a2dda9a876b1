package ground

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Near agrees with the exact line, which is held against published lines.
func TestNearAgreesWithTheExactLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := LatLon{rapid.Float64Range(-70, 70).Draw(t, "lat"), rapid.Float64Range(-180, 180).Draw(t, "lon")}
		to, _ := WGS84.Reach(from, rapid.Float64Range(0, 360).Draw(t, "azimuth"), rapid.Float64Range(1, 10_000).Draw(t, "metres"))
		exact := WGS84.Between(from, to)
		distance, azimuth := WGS84.Near(from, to)
		if math.Abs(distance-exact.DistanceM) > 0.1 || math.Abs(math.Mod(azimuth-exact.AzimuthDeg+540, 360)-180) > 0.1 {
			t.Fatalf("%v to %v: %v m by %v, exact %+v", from, to, distance, azimuth, exact)
		}
	})
	if distance, azimuth := WGS84.Near(LatLon{-36, 140}, LatLon{-36, 140}); distance != 0 || azimuth != 0 {
		t.Errorf("%v m by %v to itself", distance, azimuth)
	}
}
