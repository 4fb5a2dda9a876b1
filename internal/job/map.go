package job

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"rowtally/internal/ground"
)

// Map is the plan picture of a job, in metres of the paddock's plane: east, north. As
// text it is part of a paper as issued: nothing is read from the rows again.
type Map struct {
	Outline []Ring    `json:"outline"` // the paddock, in one part or several
	Holes   []Ring    `json:"holes,omitempty"`
	NoGo    []Ring    `json:"no_go,omitempty"`
	Rows    []Stretch `json:"rows,omitempty"` // planned
	Sown    []Stretch `json:"sown,omitempty"` // also past the planned ends
	Missed  []Stretch `json:"missed,omitempty"`

	NoGoLines  []Ring `json:"no_go_lines,omitempty"`  // open: drains, fences, pipes
	NoGoPoints []Mark `json:"no_go_points,omitempty"` // bores, troughs
	Headland   []Ring `json:"headland,omitempty"`     // open: rows sown round the headland

	Marks []Mark    `json:"marks,omitempty"` // where readings were taken, numbered from 1
	Falls *Downhill `json:"falls,omitempty"` // nil while no fall is known
}

// Mark is a point of the plane: east, north.
type Mark [2]Metres

// Downhill is the way that the ground falls: the true bearing, and what is said beside it.
type Downhill struct {
	BearingDeg float64 `json:"bearing_deg"`
	Says       string  `json:"says"`
}

// Metres is a place along one axis; it is kept to 0.1 m.
type Metres float64

// Ring is a closed line: its corners, east and north, the first not repeated.
type Ring [][2]Metres

// Stretch is a straight length of row: east and north of its start, and of its end.
type Stretch [4]Metres

// MarshalJSON writes whole decimetres, so that a map stays small.
func (m Metres) MarshalJSON() ([]byte, error) {
	tenths := math.Round(float64(m) * 10)
	if math.IsNaN(tenths) || math.Abs(tenths) > 1e9 {
		return nil, fmt.Errorf("%v is not a place in a paddock's plane", float64(m))
	}
	return strconv.AppendFloat(nil, (tenths+0)/10, 'f', -1, 64), nil
}

// Text is the map as a paper keeps it.
func (m Map) Text() (string, error) {
	text, err := json.Marshal(m)
	if err != nil {
		return "", fmt.Errorf("plan picture: %w", err)
	}
	return string(text), nil
}

// ReadMap reads a paper's map; ok is false where it has none.
func ReadMap(text string) (m Map, ok bool, err error) {
	if text == "" {
		return Map{}, false, nil
	}
	if err := json.Unmarshal([]byte(text), &m); err != nil {
		return Map{}, false, fmt.Errorf("plan picture: %w", err)
	}
	return m, len(m.Outline) > 0, nil
}

// MapOfGround draws boundary, holes and no-go areas.
func MapOfGround(g Ground) Map { return g.drawn(ground.NewFrame(g.Shape.Centre())) }

// MapOfSite draws the ground with where readings were taken, and the way it falls.
func MapOfSite(g Ground, readAt []ground.LatLon) Map {
	m, frame := MapOfGround(g), ground.NewFrame(g.Shape.Centre())
	for _, place := range readAt {
		at := frame.ToPlane(place)
		m.Marks = append(m.Marks, Mark{Metres(at.E), Metres(at.N)})
	}
	m.Falls = g.downhill()
	return m
}

// MapOfPlan draws the paddock with its planned rows.
func MapOfPlan(l Laid) Map {
	m := l.Ground.drawn(*l.Frame)
	for _, row := range l.Rows {
		for _, span := range row.Spans {
			m.Rows = append(m.Rows, StretchOf(l.Ends(row, span)))
		}
	}
	for _, row := range l.Headland {
		for _, run := range row.Runs {
			path := make(Ring, len(run.Path))
			for i, at := range run.Path {
				path[i] = [2]Metres{Metres(at.E), Metres(at.N)}
			}
			m.Headland = append(m.Headland, path)
		}
	}
	return m
}

func (g Ground) drawn(frame ground.Frame) (m Map) {
	for _, part := range g.Shape {
		m.Outline = append(m.Outline, drawnRing(frame, part.Outer))
		for _, hole := range part.Holes {
			m.Holes = append(m.Holes, drawnRing(frame, hole))
		}
	}
	for _, part := range g.NoGo.Polygons {
		m.NoGo = append(m.NoGo, drawnRing(frame, part.Outer))
	}
	for _, line := range g.NoGo.Lines {
		m.NoGoLines = append(m.NoGoLines, drawnRing(frame, line))
	}
	for _, place := range g.NoGo.Points {
		at := frame.ToPlane(place)
		m.NoGoPoints = append(m.NoGoPoints, Mark{Metres(at.E), Metres(at.N)})
	}
	return m
}

// MapName names a place of the map: a corner by letter, a no-go area by number.
type MapName struct {
	At   Mark
	Name string
	NoGo bool
}

// Names are the names of a map of the same ground: corners of the outsides, and no-go areas.
func (g Ground) Names() (names []MapName) {
	m := MapOfGround(g)
	for _, ring := range m.Outline {
		for _, corner := range ring {
			names = append(names, MapName{Mark(corner), CornerName(len(names)), false})
		}
	}
	number := 0
	add := func(at Mark) {
		number++
		names = append(names, MapName{at, strconv.Itoa(number), true})
	}
	for _, line := range append(m.NoGo, m.NoGoLines...) {
		add(Mark(line[0]))
	}
	for _, at := range m.NoGoPoints {
		add(at)
	}
	return names
}

func drawnRing(frame ground.Frame, ring []ground.LatLon) Ring {
	out := make(Ring, len(ring))
	for i, corner := range ring {
		at := frame.ToPlane(corner)
		out[i] = [2]Metres{Metres(at.E), Metres(at.N)}
	}
	return out
}

// StretchOf is the straight length between two points.
func StretchOf(from, to ground.Point) Stretch {
	return Stretch{Metres(from.E), Metres(from.N), Metres(to.E), Metres(to.N)}
}
