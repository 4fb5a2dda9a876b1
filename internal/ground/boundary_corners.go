package ground

import (
	"fmt"
	"strconv"
	"strings"

	"rowtally/internal/fault"
)

// cornersFormat is a list of corners, a line each: latitude and longitude, or the columns
// that the first line names. A list of corners is a ring by itself: its last joins the first.
var cornersFormat = format{
	name:    "corners, a line each",
	endings: []string{".csv", ".txt"},
	begins:  listsCorners,
	reads:   cornersGeometry,
}

// listsCorners tells whether a text's first line holds two figures, or the names of columns.
func listsCorners(content []byte) bool {
	rows := cells(string(content[:min(len(content), 4000)]))
	if len(rows) == 0 || len(rows[0].cells) < 2 {
		return false
	}
	_, err := strconv.ParseFloat(rows[0].cells[0], 64)
	return err == nil || columnOf(rows[0].cells, "latitude") >= 0 || columnOf(rows[0].cells, "longitude") >= 0
}

func cornersGeometry(content []byte, mend *mending) (g Geometry, notes []string, err error) {
	rows := cells(string(content))
	at := columns{lat: 0, lon: 1}
	if _, err := strconv.ParseFloat(rows[0].cells[0], 64); err != nil {
		if at, err = placeColumns(rows[0].cells); err != nil {
			return g, nil, err
		}
		rows = rows[1:]
	}
	var places []LatLon
	for i, row := range rows {
		place, err := mend.corner(row, at)
		if err != nil {
			return g, nil, err
		}
		if mend.lists == ListsAreLines && i > 0 && row.line > rows[i-1].line+1 {
			g.Lines, places = append(g.Lines, places), nil
		}
		places = append(places, place)
	}
	if mend.lists == listsOneRing || mend.lists == ListsAreAreas && len(places) > 2 {
		g.Polygons, _, err = cornersShape(places)
		return g, nil, err
	}
	return g, nil, mend.list(&g, places)
}

// cornersShape makes a polygon of corners, whose last may repeat the first.
func cornersShape(ring []LatLon) (Shape, []string, error) {
	if len(ring) > 1 && ring[0] != ring[len(ring)-1] {
		ring = append(ring, ring[0])
	}
	var polygon GeoPolygon
	if err := polygon.addRing(ring); err != nil {
		return nil, nil, err
	}
	return Shape{polygon}, nil, nil
}

func (m *mending) corner(row cellRow, at columns) (LatLon, error) {
	lat, err := row.figure(at.lat, "latitude")
	if err != nil {
		return LatLon{}, err
	}
	lon, err := row.figure(at.lon, "longitude")
	if err != nil {
		return LatLon{}, err
	}
	place, err := m.place(lat, lon)
	if err != nil {
		return place, fault.Refuse("", "line %d: %v", row.line, err)
	}
	return place, nil
}

// A measured round closes where its end misses its start by less than this share of its
// length, or by less than a metre. Our choice: a chain and a compass do better.
const closesWithin = 0.01

// ReadRound reads a boundary from a start and its sides, a line each: true bearing in
// degrees, then metres. A round that does not come back to its start is refused, unless
// closing it is asked for; what it misses by is always told.
func (r Repairs) ReadRound(start LatLon, sides string) (Boundary, error) {
	if err := start.Check(); err != nil {
		return Boundary{}, fault.Refuse("", "the start: %v", err)
	}
	ring, roundM := []LatLon{start}, 0.0
	for _, row := range cells(sides) {
		bearing, lengthM, err := row.side()
		if err != nil {
			return Boundary{}, err
		}
		to, _ := WGS84.Reach(ring[len(ring)-1], bearing, lengthM)
		ring, roundM = append(ring, to), roundM+lengthM
		if len(ring) > MostCorners {
			return Boundary{}, fault.Refuse("", "there are more than %d sides, take fewer", MostCorners)
		}
	}
	if len(ring) < 4 {
		return Boundary{}, fault.Refuse("", "there are %s, a round needs at least 3", counted(len(ring)-1, "side"))
	}
	missM := WGS84.Between(ring[len(ring)-1], start).DistanceM
	note := fmt.Sprintf("%s of %.0f m in all, missing the start by %.1f m", counted(len(ring)-1, "side"), roundM, missM)
	switch {
	case missM <= max(1, closesWithin*roundM):
		ring = ring[:len(ring)-1]
	case !r.CloseRings:
		return Boundary{}, fault.Refuse("", "the sides end %.0f m from the start, add the last side or check them; or tick “%s”", missM, CloseForMe)
	default:
		note += "; closed as asked"
	}
	shape, _, err := cornersShape(ring)
	if err != nil {
		return Boundary{}, err
	}
	return finished(shape, []string{note})
}

// side reads a bearing and a length.
func (r cellRow) side() (bearingDeg, lengthM float64, err error) {
	if bearingDeg, err = r.figure(0, "bearing"); err != nil {
		return 0, 0, err
	}
	if lengthM, err = r.figure(1, "distance"); err != nil {
		return 0, 0, err
	}
	switch {
	case !(bearingDeg >= 0 && bearingDeg <= 360):
		return 0, 0, fault.Refuse("", "line %d: the bearing is %s, enter 0 to 360 degrees true", r.line, strings.TrimSpace(r.cells[0]))
	case !(lengthM > 0 && lengthM <= 100_000):
		return 0, 0, fault.Refuse("", "line %d: the distance is %s m, enter more than 0 and up to 100 000", r.line, strings.TrimSpace(r.cells[1]))
	}
	return bearingDeg, lengthM, nil
}
