package ground

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"
)

// peer runs a program of GeographicLib or PROJ over lines of input and hands back the
// numbers of each line of its output. It skips the test where the program is missing.
func peer(t *testing.T, lines []string, name string, args ...string) [][]float64 {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("%s is not installed", name)
	}
	run := exec.Command(path, args...)
	run.Stdin = strings.NewReader(strings.Join(lines, "\n") + "\n")
	var out, errs bytes.Buffer
	run.Stdout, run.Stderr = &out, &errs
	if err := run.Run(); err != nil {
		t.Fatalf("%s: %v %s", name, err, errs.String())
	}
	var rows [][]float64
	for line := range strings.Lines(out.String()) {
		var row []float64
		for _, field := range strings.Fields(line) {
			var v float64
			if _, err := fmt.Sscan(field, &v); err != nil {
				t.Fatalf("%s answered %q", name, line)
			}
			row = append(row, v)
		}
		rows = append(rows, row)
	}
	return rows
}

func anywhere(r *rand.Rand) LatLon {
	return LatLon{math.Asin(2*r.Float64()-1) / degree, r.Float64()*360 - 180}
}

// pairs draws pairs of places of every kind that is hard: nearly opposite, on the
// equator, on one meridian, millimetres and kilometres apart.
func pairs(count int) [][2]LatLon {
	r := rand.New(rand.NewPCG(11, 7))
	jitter := func(size float64) float64 { return (r.Float64() - 0.5) * size }
	list := make([][2]LatLon, count)
	for i := range list {
		a, b := anywhere(r), anywhere(r)
		switch i % 7 {
		case 1:
			b = LatLon{-a.Lat + jitter(1.2), math.Remainder(a.Lon+180+jitter(1.2), 360)}
		case 2:
			b = LatLon{a.Lat + jitter(1e-6), a.Lon + jitter(1e-6)}
		case 3:
			a.Lat, b.Lat = 0, 0
			b.Lon = math.Remainder(a.Lon+179+2*r.Float64(), 360)
		case 4:
			b.Lon = math.Remainder(a.Lon+180*float64(r.IntN(2)), 360)
		case 5:
			b = LatLon{a.Lat + jitter(0.1), a.Lon + jitter(0.1)}
		case 6:
			b = LatLon{-a.Lat, math.Remainder(a.Lon+180+jitter(1), 360)}
		}
		b.Lat = max(-90, min(90, b.Lat))
		list[i] = [2]LatLon{a, b}
	}
	return list
}

// GeodSolve answers lat1 lon1 azi1 lat2 lon2 azi2 s12 a12 m12 M12 M21 S12 with -f.
func TestGeodesicsAgainstGeodSolve(t *testing.T) {
	list := pairs(7000)
	var lines []string
	for _, p := range list {
		lines = append(lines, fmt.Sprintf("%.17g %.17g %.17g %.17g", p[0].Lat, p[0].Lon, p[1].Lat, p[1].Lon))
	}
	g := newSolver(WGS84)
	for i, want := range peer(t, lines, "GeodSolve", "-i", "-f", "-p", "10") {
		a, b, azimuth, distance, reducedM := list[i][0], list[i][1], want[2], want[6], want[8]
		got := g.inverse(a, b)
		if off := math.Abs(got.distanceM - distance); off > 20e-9 {
			t.Errorf("%v to %v: %.9f m, peer %.9f", a, b, got.distanceM, distance)
		}
		// An azimuth's error counts by how far it moves the line's end.
		if off := math.Abs(math.Remainder(got.atFrom.deg()-azimuth, 360)) * degree * math.Abs(reducedM); off > 20e-9 {
			t.Errorf("%v to %v: azimuth %.15f, peer %.15f", a, b, got.atFrom.deg(), azimuth)
		}
		if to, _ := g.direct(a, azimuth, distance); g.inverse(to, b).distanceM > 30e-9 {
			t.Errorf("from %v by %v over %v m: arrived at %v, peer %v", a, azimuth, distance, to, b)
		}
		// Opposite places have lines of equal length on all sides: the area is not tested.
		if off := math.Abs(got.underM2 - want[11]); i%7 != 1 && i%7 != 3 && i%7 != 6 && off > 1 {
			t.Errorf("%v to %v: area under the line %.3f, peer %.3f", a, b, got.underM2, want[11])
		}
	}
}

func TestAreasAgainstPlanimeter(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	for _, radiusDeg := range []float64{1e-4, 1e-3, 0.1, 5, 40} {
		centre := LatLon{r.Float64()*90 - 45, r.Float64()*360 - 180}
		var ring GeoRing
		var lines []string
		for i := range 40 {
			turn := float64(i) * 9 * degree
			d := radiusDeg * (0.6 + 0.4*r.Float64())
			ring = append(ring, LatLon{centre.Lat + d*math.Cos(turn), centre.Lon + d*math.Sin(turn)})
			lines = append(lines, fmt.Sprintf("%.17g %.17g", ring[i].Lat, ring[i].Lon))
		}
		want := peer(t, lines, "Planimeter", "-p", "11")[0] // corners, perimeter, area
		got := WGS84.Extent(Shape{{Outer: ring}})
		if math.Abs(got.PerimeterM-want[1]) > 1e-7+1e-14*want[1] || math.Abs(got.AreaM2-math.Abs(want[2])) > 1e-3+1e-13*got.AreaM2 {
			t.Errorf("radius %v°: %.6f m, %.4f m²; peer %.6f m, %.4f m²", radiusDeg, got.PerimeterM, got.AreaM2, want[1], want[2])
		}
	}
}

// PROJ's etmerc is a transverse Mercator of its own writing.
func TestGridAgainstPROJ(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 2))
	for _, c := range []struct {
		ours        TransverseMercator
		proj        string
		halfWideDeg float64
	}{
		{Zone{OnGDA2020, 54, true}.Grid(), "+proj=utm +zone=54 +south +ellps=GRS80 +units=m", 5},
		{Zone{OnWGS84, 31, false}.Grid(), "+proj=utm +zone=31 +ellps=WGS84 +units=m", 5},
		{NewTransverseMercator(WGS84, 140.1, 1, 1000, -2000), "+proj=etmerc +lon_0=140.1 +k_0=1 +x_0=1000 +y_0=-2000 +ellps=WGS84 +units=m", 30},
	} {
		var places []LatLon
		var lines []string
		for range 500 {
			p := LatLon{r.Float64()*170 - 85, c.ours.meridianDeg + (r.Float64()*2-1)*c.halfWideDeg}
			places = append(places, p)
			lines = append(lines, fmt.Sprintf("%.15f %.15f", p.Lon, p.Lat))
		}
		for i, want := range peer(t, lines, "cs2cs", "-f", "%.9f", "+proj=longlat +ellps="+c.ours.ellipsoid.Name, "+to", c.proj) {
			point := c.ours.ToPlane(places[i])
			if off := point.To(Point{want[0], want[1]}); off > 1e-6 {
				t.Errorf("%s, %v: %v, peer %v: %g m off", c.proj, places[i], point, want, off)
			}
			if back := c.ours.ToEarth(point); WGS84.Between(back, places[i]).DistanceM > 1e-7 {
				t.Errorf("%s: %v came back as %v", c.proj, places[i], back)
			}
		}
	}
}

// flatter is a body thirty times as flat as the earth: on it the last terms of every
// series, which the earth hides below a nanometre, move a line by millimetres.
var flatter = Ellipsoid{"flatter", 6378137, 0.1}

// The peer's own direct solution adds a step beyond the series there, so that lines are
// compared one way alone.
func TestSeriesOnAFlatterBody(t *testing.T) {
	list := pairs(700)
	var lines []string
	for _, p := range list {
		lines = append(lines, fmt.Sprintf("%.17g %.17g %.17g %.17g", p[0].Lat, p[0].Lon, p[1].Lat, p[1].Lon))
	}
	g := newSolver(flatter)
	for i, want := range peer(t, lines, "GeodSolve", "-i", "-f", "-p", "10", "-e", "6378137", "0.1") {
		got := g.inverse(list[i][0], list[i][1])
		if off := math.Abs(got.distanceM - want[6]); off > 5e-8 {
			t.Errorf("%v: %.9f m, peer %.9f", list[i], got.distanceM, want[6])
		}
		if off := math.Abs(got.underM2 - want[11]); (i%7 == 0 || i%7 == 5) && off > 20 {
			t.Errorf("%v: area under the line %.3f, peer %.3f", list[i], got.underM2, want[11])
		}
	}
}

// TransverseMercatorProj answers easting, northing, convergence (of the opposite sign)
// and scale, by the same order of the same series with -s.
func TestKrugerSeriesOnAFlatterBody(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	grid := NewTransverseMercator(flatter, 0, 0.9996, 0, 0)
	var places []LatLon
	var lines, back []string
	for range 200 {
		p := LatLon{r.Float64()*160 - 80, r.Float64()*60 - 30}
		places = append(places, p)
		lines = append(lines, fmt.Sprintf("%.17g %.17g", p.Lat, p.Lon))
		point := grid.ToPlane(p)
		back = append(back, fmt.Sprintf("%.17g %.17g", point.E, point.N))
	}
	args := []string{"-s", "-l", "0", "-k", "0.9996", "-e", "6378137", "0.1", "-p", "10"}
	for i, want := range peer(t, lines, "TransverseMercatorProj", args...) {
		point, scaling := grid.Project(places[i])
		if off := point.To(Point{want[0], want[1]}); off > 1e-6 || math.Abs(scaling.PointScale-want[3]) > 1e-12 || math.Abs(scaling.ConvergenceDeg+want[2]) > 1e-10 {
			t.Errorf("%v: %v %+v, peer %v", places[i], point, scaling, want)
		}
	}
	for i, want := range peer(t, back, "TransverseMercatorProj", append(args, "-r")...) {
		got := grid.ToEarth(grid.ToPlane(places[i]))
		if math.Abs(got.Lat-want[0]) > 1e-11 || math.Abs(got.Lon-want[1]) > 1e-11 {
			t.Errorf("%v came back as %v, the peer's as %v", places[i], got, want)
		}
	}
}
