package ground

import (
	"fmt"
	"slices"
	"strings"

	"rowtally/internal/fault"
)

// Lists says what a list of places is in a no-go file that does not tell by itself: the
// lines of a CSV or of typed text, and the tracks and routes of a GPX file.
type Lists string

// What a list may be. The zero value is a boundary's: one ring and nothing else.
const (
	listsOneRing   Lists = ""
	ListsAreAreas  Lists = "areas" // one place alone is a point all the same, and two are a line
	ListsAreLines  Lists = "lines" // an empty line of text begins the next
	ListsArePoints Lists = "points"
)

// list adds a list of places as what it is said to be.
func (m *mending) list(g *Geometry, places []LatLon) error {
	switch {
	case len(places) == 0 && m.lists != listsOneRing:
	case m.lists == ListsArePoints, m.lists == ListsAreAreas && len(places) == 1:
		g.Points = append(g.Points, places...)
	case m.lists == ListsAreLines, m.lists == ListsAreAreas && len(places) == 2:
		g.Lines = append(g.Lines, places)
	default:
		var polygon GeoPolygon
		if err := polygon.addRing(m.ring(places)); err != nil {
			return err
		}
		g.Polygons = append(g.Polygons, polygon)
	}
	return nil
}

// mostNoGo is how many no-go areas, lines and points one file may hold: each has a number
// on the picture.
const mostNoGo = 200

// ReadNoGo reads a file of what is not sown: areas, lines such as a fence or a pipe, and
// points such as a bore, in any format of a boundary. It mends what was asked for, and
// refuses what cannot be with the sentence that mends it.
func (r Repairs) ReadNoGo(name string, content []byte, lists Lists) (Geometry, error) {
	if !slices.Contains([]Lists{ListsAreAreas, ListsAreLines, ListsArePoints}, lists) {
		return Geometry{}, fault.Refuse("", "say whether lists of places are areas, lines or points")
	}
	g, _, err := r.read(name, content, lists)
	if err != nil {
		return Geometry{}, err
	}
	if len(g.Polygons) > 0 {
		areas, err := finished(g.Polygons, nil)
		if err != nil {
			return Geometry{}, err
		}
		g.Polygons = areas.Shape
	}
	return g.finishedLines()
}

// finishedLines leaves out corners that repeat the one before, and refuses lines that go
// nowhere and files that hold nothing, or more than can be told apart.
func (g Geometry) finishedLines() (Geometry, error) {
	for i, line := range g.Lines {
		g.Lines[i] = slices.Compact(line)
		if corners := len(g.Lines[i]); corners < 2 || corners > MostCorners {
			return Geometry{}, inPart("line", i, fault.Refuse("", "it has %s, a line has 2 to %d; give a single place as a point", counted(corners, "corner"), MostCorners))
		}
	}
	switch parts := len(g.Each()); {
	case parts == 0:
		return Geometry{}, fault.Refuse("", "the file holds no area, line or point, choose another")
	case parts > mostNoGo:
		return Geometry{}, fault.Refuse("", "the file holds %s, at most %d areas, lines and points are taken; keep those in or beside the paddock", g.Tally(), mostNoGo)
	}
	return Geometry{Polygons: g.Polygons, Lines: g.Lines, Points: g.Points}, nil
}

// Tally counts what a geometry holds: "1 area, 2 lines and 1 point"; "" where it is empty.
func (g Geometry) Tally() string {
	var held []string
	for _, part := range []struct {
		count int
		noun  string
	}{{len(g.Polygons), "area"}, {len(g.Lines), "line"}, {len(g.Points), "point"}} {
		if part.count > 0 {
			held = append(held, counted(part.count, part.noun))
		}
	}
	if last := len(held) - 1; last > 0 {
		return fmt.Sprintf("%s and %s", strings.Join(held[:last], ", "), held[last])
	}
	return strings.Join(held, "")
}
