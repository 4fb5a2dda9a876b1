package ground

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"rowtally/internal/published"
)

// surveyed hands the rows of one kind to a test.
func surveyed(t *testing.T, kind string, check func(t *testing.T, row published.Row, places []LatLon)) {
	t.Helper()
	seen := 0
	for _, row := range published.Rows(t, "geodesy.csv") {
		if row.Text("kind") == kind {
			seen++
			t.Run(row.Text("id"), func(t *testing.T) { check(t, row, placesOf(t, row.Text("places"))) })
		}
	}
	if seen == 0 {
		t.Fatalf("no published rows of kind %q", kind)
	}
}

// placesOf reads "lat, lon; lat, lon", each in degrees or as "degrees minutes seconds".
func placesOf(t *testing.T, text string) []LatLon {
	t.Helper()
	var places []LatLon
	for pair := range strings.SplitSeq(text, ";") {
		lat, lon, _ := strings.Cut(pair, ",")
		places = append(places, LatLon{angle(t, lat), angle(t, lon)})
	}
	return places
}

// angle reads degrees, or degrees, minutes and seconds.
func angle(t *testing.T, text string) float64 {
	t.Helper()
	deg, size := 0.0, 1.0
	for _, part := range strings.Fields(strings.Replace(text, "-", "", 1)) {
		v, err := strconv.ParseFloat(part, 64)
		if err != nil {
			t.Fatalf("%q is no angle: %v", text, err)
		}
		deg += v / size
		size *= 60
	}
	if strings.Contains(text, "-") {
		return -deg
	}
	return deg
}

// agree compares a value with the printed one, angles round the circle and to the
// printed unit of their tolerance (degrees, or seconds of arc).
func agree(t *testing.T, row published.Row, got ...float64) {
	t.Helper()
	wants := strings.Split(row.Text("expected"), ",")
	if len(wants) != len(got) {
		t.Fatalf("%d values against %d printed", len(got), len(wants))
	}
	for i, want := range wants {
		off := got[i] - angle(t, want)
		switch row.Text("unit") {
		case "d m s":
			off = math.Remainder(off, 360) * 3600
		case "deg":
			off = math.Remainder(off, 360)
		}
		if !(math.Abs(off) <= row.Number("tolerance")) {
			t.Errorf("%s: %.12g, printed %s, off by %g", row.Text("quantity"), got[i], want, off)
		}
	}
}

func ellipsoidOf(t *testing.T, row published.Row) Ellipsoid {
	t.Helper()
	for _, e := range []Ellipsoid{WGS84, GRS80} {
		if e.Name == row.Text("ellipsoid_or_grid") {
			return e
		}
	}
	t.Fatalf("no ellipsoid %q", row.Text("ellipsoid_or_grid"))
	return Ellipsoid{}
}

func TestGeodesicsAgainstSurveyLinesAndPublishedCases(t *testing.T) {
	surveyed(t, "geodesic", func(t *testing.T, row published.Row, at []LatLon) {
		line := ellipsoidOf(t, row).Between(at[0], at[1])
		switch row.Text("quantity") {
		case "distance":
			agree(t, row, line.DistanceM)
		case "azimuth":
			agree(t, row, line.AzimuthDeg)
		case "back azimuth":
			agree(t, row, line.BackAzimuthDeg)
		case "onward azimuth":
			agree(t, row, line.BackAzimuthDeg-180)
		default:
			t.Fatalf("nothing checks %q", row.Text("quantity"))
		}
	})
}

func gridOf(t *testing.T, row published.Row) TransverseMercator {
	t.Helper()
	number, err := strconv.Atoi(strings.TrimPrefix(row.Text("ellipsoid_or_grid"), "MGA "))
	if err != nil {
		t.Fatal(err)
	}
	return Zone{OnGDA2020, number, true}.Grid()
}

func TestGridAgainstSurveyStations(t *testing.T) {
	surveyed(t, "grid", func(t *testing.T, row published.Row, at []LatLon) {
		grid := gridOf(t, row)
		point, scaling := grid.Project(at[0])
		switch row.Text("quantity") {
		case "easting, northing":
			agree(t, row, point.E, point.N)
			if back := grid.ToEarth(point); GRS80.Between(back, at[0]).DistanceM > 1e-7 {
				t.Errorf("%v came back as %v", at[0], back)
			}
		case "point scale":
			agree(t, row, scaling.PointScale)
		case "convergence":
			agree(t, row, scaling.ConvergenceDeg)
		default:
			t.Fatalf("nothing checks %q", row.Text("quantity"))
		}
	})
}

// The convergence is added to the azimuth to get the grid bearing: with the sign the
// other way round the bearings would be off by more than three degrees.
func TestGridLineAgainstSurvey(t *testing.T) {
	surveyed(t, "grid line", func(t *testing.T, row published.Row, at []LatLon) {
		grid := gridOf(t, row)
		line := GRS80.Between(at[0], at[1])
		from, scaling := grid.Project(at[0])
		plane := from.To(grid.ToPlane(at[1]))
		switch row.Text("quantity") {
		case "plane distance":
			agree(t, row, plane)
		case "line scale":
			agree(t, row, plane/line.DistanceM)
		case "grid bearing":
			agree(t, row, line.AzimuthDeg+scaling.ConvergenceDeg)
		default:
			t.Fatalf("nothing checks %q", row.Text("quantity"))
		}
	})
}

func TestAreasAgainstPublishedPolygons(t *testing.T) {
	surveyed(t, "polygon", func(t *testing.T, row published.Row, at []LatLon) {
		extent := ellipsoidOf(t, row).Extent(Shape{{Outer: at}})
		switch row.Text("quantity") {
		case "area":
			agree(t, row, extent.AreaM2)
		case "perimeter":
			agree(t, row, extent.PerimeterM)
		default:
			t.Fatalf("nothing checks %q", row.Text("quantity"))
		}
	})
}
