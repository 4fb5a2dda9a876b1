package ground

import (
	"encoding/json"

	"rowtally/internal/fault"
)

// UnmarshalJSON reads a plane polygon: a list of rings of [east, north] in metres, the
// first the outside. The last corner of a ring may repeat the first.
func (p *Polygon) UnmarshalJSON(raw []byte) error {
	var rings [][][]float64
	if err := json.Unmarshal(raw, &rings); err != nil {
		return fault.Refuse("", "give a list of rings, each a list of [east, north] in metres, the first ring the outside")
	}
	*p = Polygon{}
	for i, corners := range rings {
		ring, err := planeRing(corners)
		if err != nil {
			return inPart("ring", i, err)
		}
		if i == 0 {
			p.Outer = ring
		} else {
			p.Holes = append(p.Holes, ring)
		}
	}
	return nil
}

func planeRing(corners [][]float64) (Ring, error) {
	ring := make(Ring, len(corners))
	for i, at := range corners {
		if len(at) != 2 {
			return nil, inPart("corner", i, fault.Refuse("", "it has %d numbers, give east and north in metres", len(at)))
		}
		ring[i] = Point{at[0], at[1]}
	}
	if last := len(ring) - 1; last > 0 && ring[0] == ring[last] {
		ring = ring[:last]
	}
	return ring, nil
}

// MarshalJSON writes a plane polygon as UnmarshalJSON reads it, its rings closed.
func (p Polygon) MarshalJSON() ([]byte, error) {
	out := [][][2]float64{}
	for _, ring := range p.Rings() {
		corners := [][2]float64{}
		for i := range len(ring) + min(1, len(ring)) {
			at := ring[i%len(ring)]
			corners = append(corners, [2]float64{at.E, at.N})
		}
		out = append(out, corners)
	}
	return json.Marshal(out)
}
