package ground

import "math"

// Extent is the size of a shape on an ellipsoid.
type Extent struct {
	AreaM2     float64 `json:"area_m2"`     // outsides less holes
	PerimeterM float64 `json:"perimeter_m"` // of outsides and holes
}

// Extent measures a shape whose edges are geodesics, whichever way its rings run. The
// error of a paddock's area is below ten square centimetres; any ring up to half the earth,
// round a pole too, is measured.
// Source: Karney, Algorithms for geodesics, J. Geodesy 87 (2013), section 6.
func (e Ellipsoid) Extent(s Shape) Extent {
	g := newSolver(e)
	var sum Extent
	for _, polygon := range s {
		for i, ring := range polygon.Rings() {
			area, perimeter := g.ringExtent(ring)
			if i > 0 {
				area = -area
			}
			sum.AreaM2 += area
			sum.PerimeterM += perimeter
		}
	}
	return sum
}

// ringExtent adds up the areas between the edges and the equator. A ring round a pole
// holds half the earth besides.
func (g *solver) ringExtent(r GeoRing) (areaM2, perimeterM float64) {
	eastDeg := 0.0
	for i, corner := range r {
		next := r[(i+1)%len(r)]
		edge := g.inverse(corner, next)
		areaM2 += edge.underM2
		perimeterM += edge.distanceM
		eastDeg += eastward(corner.Lon, next.Lon)
	}
	half := 2 * math.Pi * g.authalic2M2
	if math.Abs(eastDeg) > 180 {
		areaM2 -= math.Copysign(half, areaM2)
	}
	return math.Abs(math.Remainder(areaM2, 2*half)), perimeterM
}
