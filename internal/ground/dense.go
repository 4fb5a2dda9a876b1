package ground

import "math"

// A GeoJSON edge is straight in longitude and latitude, and bows off the plane's
// straight line by length² x tan(latitude) / 8R: 13 mm on 1 km at 33.5°, 52 mm on 2 km.
// Edges are therefore followed in pieces of at most pieceM, which leaves a millimetre.
const (
	pieceM    = 250
	mostAdded = 50_000 // corners added in all; beyond that the pieces grow
)

// Dense is the shape with further corners along its long edges, so that what joins the
// corners straight in a Frame's plane runs where GeoJSON's edges run.
func (s Shape) Dense() Shape {
	piece := s.piece()
	out := make(Shape, len(s))
	for i, polygon := range s {
		out[i].Outer = dense(polygon.Outer, piece, true)
		for _, hole := range polygon.Holes {
			out[i].Holes = append(out[i].Holes, dense(hole, piece, true))
		}
	}
	return out
}

// DenseLine is a line with further corners along its long edges.
func DenseLine(line []LatLon) []LatLon {
	return dense(line, max(pieceM, roughLengthM(line, false)/mostAdded), false)
}

// piece is the length of pieces for the whole shape.
func (s Shape) piece() float64 {
	length := 0.0
	for _, polygon := range s {
		for _, ring := range polygon.Rings() {
			length += roughLengthM(ring, true)
		}
	}
	return max(pieceM, length/mostAdded)
}

func dense(line []LatLon, piece float64, closed bool) []LatLon {
	var out []LatLon
	for i, from := range line {
		out = append(out, from)
		if i == len(line)-1 && !closed {
			break
		}
		to := line[(i+1)%len(line)]
		length := roughM(from, to)
		if length <= piece {
			continue
		}
		count := math.Ceil(length / piece)
		for k := 1.0; k < count; k++ {
			out = append(out, LatLon{
				Lat: from.Lat + (to.Lat-from.Lat)*k/count,
				Lon: from.Lon + eastward(from.Lon, to.Lon)*k/count,
			})
		}
	}
	return out
}

func roughLengthM(line []LatLon, closed bool) float64 {
	sum := 0.0
	for i, from := range line {
		if i < len(line)-1 || closed {
			sum += roughM(from, line[(i+1)%len(line)])
		}
	}
	return sum
}

// roughM is a distance good to 1 %, for choosing pieces alone.
func roughM(from, to LatLon) float64 {
	north := (to.Lat - from.Lat) * degree
	east := eastward(from.Lon, to.Lon) * degree * math.Cos((from.Lat+to.Lat)/2*degree)
	return WGS84.EquatorialM * math.Hypot(north, east)
}
