package ground

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"rowtally/internal/published"
)

// degreesOf reads an angle printed as degrees, a point, and then two digits of minutes and
// of seconds each, and the seconds' decimals.
func degreesOf(t *testing.T, printed string) float64 {
	t.Helper()
	whole, rest, _ := strings.Cut(printed, ".")
	return angle(t, whole+" "+rest[:2]+" "+rest[2:4]+"."+rest[4:])
}

// Survey stations all over Australia, both ways through the map grid:
// printed to the millimetre, and to less than that in degrees.
func TestGridAgainstOneHundredStations(t *testing.T) {
	rows := published.Rows(t, "grid_stations.csv")
	if len(rows) != 128 {
		t.Fatalf("%d stations", len(rows))
	}
	worstM := 0.0
	for _, row := range rows {
		place := LatLon{degreesOf(t, row.Text("lat_dms")), degreesOf(t, row.Text("lon_dms"))}
		number, err := strconv.Atoi(row.Text("zone"))
		if err != nil {
			t.Fatal(err)
		}
		if got := ZoneOf(OnGDA2020, place); got.Number != number || !got.South {
			t.Errorf("%s at %v lies in %v, printed as zone %d", row.Text("station"), place, got, number)
		}
		grid, printed := Zone{OnGDA2020, number, true}.Grid(), Point{row.Number("easting_m"), row.Number("northing_m")}
		point := grid.ToPlane(place)
		worstM = max(worstM, math.Abs(point.E-printed.E), math.Abs(point.N-printed.N))
		if math.Abs(point.E-printed.E) > 0.00051 || math.Abs(point.N-printed.N) > 0.00051 {
			t.Errorf("%s: %.4f, %.4f; printed %.3f, %.3f", row.Text("station"), point.E, point.N, printed.E, printed.N)
		}
		if off := GRS80.Between(grid.ToEarth(printed), place).DistanceM; off > 0.0008 {
			t.Errorf("%s comes back %.4f m off", row.Text("station"), off)
		}
	}
	t.Logf("%d stations, the worst off by %.6f m", len(rows), worstM)
}

// The geodesics that every implementation is tested with, both ways, with their areas.
func TestGeodesicsAgainstTheCommonTestSets(t *testing.T) {
	g := newSolver(WGS84)
	for _, row := range published.Rows(t, "geodesic_cases.csv") {
		from, to := LatLon{row.Number("lat1_deg"), row.Number("lon1_deg")}, LatLon{row.Number("lat2_deg"), row.Number("lon2_deg")}
		azimuth, distance, reducedM := row.Number("azimuth1_deg"), row.Number("distance_m"), row.Number("reduced_m")
		got := g.inverse(from, to)
		if off := math.Abs(got.distanceM - distance); off > 20e-9 {
			t.Errorf("%s: %.9f m, off by %g", row.Name, got.distanceM, off)
		}
		if off := math.Abs(math.Remainder(got.atFrom.deg()-azimuth, 360)) * degree * math.Abs(reducedM); off > 20e-9 {
			t.Errorf("%s: azimuth %.15f, which moves the end by %g m", row.Name, got.atFrom.deg(), off)
		}
		if off := math.Abs(math.Remainder(got.atTo.deg()-row.Number("azimuth2_deg"), 360)) * degree * math.Abs(reducedM); off > 20e-9 {
			t.Errorf("%s: onward azimuth %.15f", row.Name, got.atTo.deg())
		}
		// Between nearly opposite places a whisker moves the line, and the ground under it, far.
		if off := math.Abs(got.underM2 - row.Number("under_m2")); math.Abs(reducedM) > 200e3 && off > 0.2 {
			t.Errorf("%s: area %.3f m², off by %.3f", row.Name, got.underM2, off)
		}
		if end, _ := g.direct(from, azimuth, distance); g.inverse(end, to).distanceM > 30e-9 {
			t.Errorf("%s: arrived at %v, %g m off", row.Name, end, g.inverse(end, to).distanceM)
		}
	}
}
