package ground

import (
	"encoding/json"
	"slices"
)

// MarshalJSON writes a GeoJSON Polygon, or a MultiPolygon unless there is just one. The
// outside runs anticlockwise and holes clockwise, as RFC 7946, section 3.1.6, asks.
func (s Shape) MarshalJSON() ([]byte, error) {
	polygons := make([][][][2]float64, len(s))
	for i, polygon := range s {
		for k, ring := range polygon.Rings() {
			polygons[i] = append(polygons[i], ring.positions(k == 0))
		}
	}
	if len(polygons) == 1 {
		return json.Marshal(geoOut{"Polygon", polygons[0]})
	}
	return json.Marshal(geoOut{"MultiPolygon", polygons})
}

type geoOut struct {
	Type        string `json:"type"`
	Coordinates any    `json:"coordinates"`
}

// positions lists the ring's corners as longitude and latitude, the first again at the
// end, anticlockwise or clockwise.
func (r GeoRing) positions(anticlockwise bool) [][2]float64 {
	turned := slices.Clone(r)
	if flat := r.flat(0); flat.signedArea() > 0 != anticlockwise {
		slices.Reverse(turned)
	}
	var out [][2]float64
	for i := range len(turned) + 1 {
		if len(turned) > 0 {
			corner := turned[i%len(turned)]
			out = append(out, [2]float64{corner.Lon, corner.Lat})
		}
	}
	return out
}
