package paper

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"rowtally/internal/ground"
	"rowtally/internal/rows"
)

// Map is the plan picture of a paper, in metres of the paddock's plane. As text it is part
// of the paper as issued (bill.Paper's Map): nothing is read from the rows again.
type Map struct {
	Outline []Ring    `json:"outline"` // the paddock, in one part or several
	Holes   []Ring    `json:"holes,omitempty"`
	NoGo    []Ring    `json:"no_go,omitempty"`
	Rows    []Stretch `json:"rows,omitempty"` // planned
	Sown    []Stretch `json:"sown,omitempty"`
}

// Metres is a place along one axis; it is kept to 0.1 m.
type Metres float64

// Ring is a closed line: its corners, east and north.
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

// MapOf draws up the paddock and its planned rows; sown stretches are for the caller to add.
func MapOf(paddock, noGo []ground.Polygon, plan rows.Plan) Map {
	var m Map
	for _, part := range paddock {
		m.Outline = append(m.Outline, ringOf(part.Outer))
		for _, hole := range part.Holes {
			m.Holes = append(m.Holes, ringOf(hole))
		}
	}
	for _, area := range noGo {
		m.NoGo = append(m.NoGo, ringOf(area.Outer))
	}
	for _, row := range plan.Rows {
		for _, span := range row.Spans {
			m.Rows = append(m.Rows, StretchOf(plan.Ends(row, span)))
		}
	}
	return m
}

// StretchOf is the straight length between two points.
func StretchOf(from, to ground.Point) Stretch {
	return Stretch{Metres(from.E), Metres(from.N), Metres(to.E), Metres(to.N)}
}

func ringOf(corners ground.Ring) Ring {
	out := make(Ring, len(corners))
	for i, corner := range corners {
		out[i] = [2]Metres{Metres(corner.E), Metres(corner.N)}
	}
	return out
}

// Text is the map as a paper keeps it. It fails on a place that is not a number.
func (m Map) Text() (string, error) {
	text, err := json.Marshal(m)
	if err != nil {
		return "", fmt.Errorf("plan picture: %w", err)
	}
	return string(text), nil
}

// readMap reads a paper's map; ok is false where it has none.
func readMap(text string) (m Map, ok bool, err error) {
	if text == "" {
		return Map{}, false, nil
	}
	if err := json.Unmarshal([]byte(text), &m); err != nil {
		return Map{}, false, fmt.Errorf("plan picture: %w", err)
	}
	return m, len(m.Outline) > 0, nil
}
