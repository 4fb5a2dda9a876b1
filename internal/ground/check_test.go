package ground

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
)

// gridRing makes a ring of corners a hundredth of a degree apart, from east and north
// counts, near 140° E 36° S.
func gridRing(counts ...float64) GeoRing {
	var r GeoRing
	for i := 0; i < len(counts); i += 2 {
		r = append(r, LatLon{-36 + counts[i+1]/100, 140 + counts[i]/100})
	}
	return r
}

func TestCheckSaysWhatIsWrong(t *testing.T) {
	square := gridRing(0, 0, 10, 0, 10, 10, 0, 10)
	for _, c := range []struct {
		name, says string
		shape      Shape
	}{
		{"nothing", "no polygon", Shape{}},
		{"two corners", "at least 3", Shape{{Outer: gridRing(0, 0, 1, 0)}}},
		{"two different corners", "2 corners that differ", Shape{{Outer: gridRing(0, 0, 1, 0, 0, 0, 1, 0)}}},
		{"no ground", "lie on one line", Shape{{Outer: gridRing(0, 0, 1, 0, 3, 0)}}},
		{"bow tie", "the outside crosses itself near corners 1 and 3 (lat -36.00000, lon 140.00000)", Shape{{Outer: gridRing(0, 0, 2, 2, 2, 0, 0, 2, -1, 1)}}},
		{"even bow tie", "the outside crosses itself near corners 1 and 3", Shape{{Outer: gridRing(0, 0, 2, 2, 2, 0, 0, 2)}}},
		{"touches itself", "the outside touches itself", Shape{{Outer: gridRing(0, 0, 4, 0, 4, 4, 2, 0, 0, 4)}}},
		{"spike", "the outside runs along itself", Shape{{Outer: gridRing(0, 0, 4, 0, 8, 0, 6, 0, 6, 4)}}},
		{"hole outside", "hole 1 lies outside its polygon at corner 1", Shape{{Outer: square, Holes: []GeoRing{gridRing(20, 0, 22, 0, 21, 2)}}}},
		{"hole across the fence", "the outside crosses hole 2", Shape{{Outer: square, Holes: []GeoRing{gridRing(1, 1, 2, 1, 1, 2), gridRing(8, 4, 12, 5, 8, 6)}}}},
		{"hole along the fence", "the outside runs along hole 1", Shape{{Outer: square, Holes: []GeoRing{gridRing(10, 4, 10, 6, 8, 5)}}}},
		{"hole leaves by a corner on the fence", "hole 1 lies outside", Shape{{Outer: square, Holes: []GeoRing{gridRing(8, 4, 10, 5, 12, 5.5, 10, 6)}}}},
		{"hole in a hole", "hole 2 lies within hole 1", Shape{{Outer: square, Holes: []GeoRing{gridRing(1, 1, 9, 1, 5, 9), gridRing(4, 2, 6, 2, 5, 4)}}}},
		{"polygon in a polygon", "the outside of polygon 2 lies within the outside of polygon 1", Shape{{Outer: square}, {Outer: gridRing(1, 1, 2, 1, 1, 2)}}},
		{"polygons that overlap", "the outside of polygon 1 crosses the outside of polygon 2", Shape{{Outer: square}, {Outer: gridRing(5, 5, 15, 5, 15, 15, 5, 15)}}},
		{"swapped", "look swapped", Shape{{Outer: GeoRing{{140, -36}, {140.1, -36}, {140, -36.1}}}}},
		{"metres", "metres of a map grid", Shape{{Outer: GeoRing{{5.9e6, 3.1e5}, {5.9e6, 3.2e5}, {6e6, 3.1e5}}}}},
		{"not a number", "not a number", Shape{{Outer: GeoRing{{math.NaN(), 140}, {-36, 140}, {-36, 141}}}}},
		{"infinite", "not a number", Shape{{Outer: GeoRing{{-36, math.Inf(1)}, {-36, 140}, {-36, 141}}}}},
	} {
		err := c.shape.Check()
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, should say %q", c.name, err, c.says)
		}
	}
}

func TestCheckTakesWhatPaddocksAreLike(t *testing.T) {
	square := gridRing(0, 0, 10, 0, 10, 10, 0, 10)
	for name, shape := range map[string]Shape{
		"plain":                   {{Outer: square}},
		"corner repeated":         {{Outer: gridRing(0, 0, 10, 0, 10, 0, 10, 10, 0, 10, 0, 0)}},
		"corner on a straight":    {{Outer: gridRing(0, 0, 5, 0, 10, 0, 10, 10, 0, 10)}},
		"hole touches the fence":  {{Outer: square, Holes: []GeoRing{gridRing(8, 4, 10, 5, 8, 6)}}},
		"holes touch":             {{Outer: square, Holes: []GeoRing{gridRing(1, 1, 3, 1, 2, 3), gridRing(3, 1, 5, 1, 4, 3)}}},
		"two with one fence":      {{Outer: square}, {Outer: gridRing(10, 0, 20, 0, 20, 10, 10, 10)}},
		"an island in a hole":     {{Outer: square, Holes: []GeoRing{gridRing(2, 2, 8, 2, 8, 8, 2, 8)}}, {Outer: gridRing(4, 4, 6, 4, 5, 6)}},
		"across the 180th degree": {{Outer: GeoRing{{-17, 179.9}, {-17, -179.9}, {-16.8, -179.9}, {-16.8, 179.9}}}},
	} {
		if err := shape.Check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Rings of few corners on a coarse grid meet in every degenerate way there is.
func TestRingsAgainstAnotherLibrarysValidity(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	valid := 0
	for range 20_000 {
		var ring Ring
		var flat []float64
		for range 3 + r.IntN(5) {
			ring = append(ring, Point{float64(r.IntN(6)), float64(r.IntN(6))})
			flat = append(flat, ring[len(ring)-1].E, ring[len(ring)-1].N)
		}
		peer := geom.NewPolygonXY(append(flat, flat[0], flat[1])).Validate()
		if peer == nil {
			valid++
		}
		if ours := (Polygon{Outer: ring}).Check(); (ours == nil) != (peer == nil) {
			t.Errorf("%v: we say %v, the peer %v", ring, ours, peer)
		}
	}
	if valid < 1000 {
		t.Errorf("only %d rings were valid", valid)
	}
}

// With holes the peer is stricter in one thing, holes that cut the ground in two by
// touching, and never laxer.
func TestHolesAgainstAnotherLibrarysValidity(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	valid, stricter := 0, 0
	for range 20_000 {
		p := Polygon{Outer: Ring{{0, 0}, {8, 0}, {8, 8}, {5, 8}, {4, 4}, {3, 8}, {0, 8}}}
		rings := [][]float64{{0, 0, 8, 0, 8, 8, 5, 8, 4, 4, 3, 8, 0, 8, 0, 0}}
		for range 1 + r.IntN(2) {
			x, y := float64(r.IntN(8)), float64(r.IntN(8))
			w, h := float64(1+r.IntN(3)), float64(1+r.IntN(3))
			p.Holes = append(p.Holes, Ring{{x, y}, {x + w, y}, {x, y + h}})
			rings = append(rings, []float64{x, y, x + w, y, x, y + h, x, y})
		}
		ours, peer := p.Check(), geom.NewPolygonXY(rings...).Validate()
		switch {
		case peer == nil && ours != nil:
			t.Errorf("%v: refused (%v), the peer takes it", p.Holes, ours)
		case peer == nil:
			valid++
		case ours == nil && !strings.Contains(peer.Error(), "interior") && !strings.Contains(peer.Error(), "intersect at multiple points"):
			t.Errorf("%v: taken, the peer says %v", p.Holes, peer)
		case ours == nil:
			stricter++
		}
	}
	if valid < 500 || stricter > valid {
		t.Errorf("%d valid, %d where the peer is stricter", valid, stricter)
	}
}

// comb is an outline of long teeth turned askew, which puts every edge beside many.
func comb(corners int) Ring {
	var r Ring
	for i := range corners - 1 {
		x, y := 0.1*float64(i), 2000*float64(i%2)
		r = append(r, Point{x + y, y - x})
	}
	return append(r, Point{1e5, -1.01e5})
}

func TestCheckManyCorners(t *testing.T) {
	round := make(Ring, MostCorners)
	for i := range round {
		turn := 2 * math.Pi * float64(i) / MostCorners
		round[i] = Point{3000 * math.Cos(turn), 3000 * math.Sin(turn)}
	}
	for _, ring := range []Ring{round, comb(3_000)} {
		if err := (Polygon{Outer: ring}).Check(); err != nil {
			t.Error(err)
		}
	}
	crossed := slices.Clone(round)
	crossed[77_000] = Point{2999, 200}
	for says, ring := range map[string]Ring{
		"crosses itself": crossed,
		"thin it out":    append(round, Point{1, 1}),
		"too intricate":  comb(MostCorners),
	} {
		if err := (Polygon{Outer: ring}).Check(); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%v, should say %q", err, says)
		}
	}
}
