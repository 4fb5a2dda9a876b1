package ground

import "fmt"

// Sizes beyond which a paddock is remarked on: our choice, not a published figure.
const (
	smallestUsualHa  = 0.1
	widestUsualM     = 20_000
	squareMetresInHa = 10_000
)

// Remarks are sentences on what looks odd in a shape, though it can be used.
func (s Shape) Remarks() []string {
	var remarks []string
	if ha := WGS84.Extent(s).AreaM2 / squareMetresInHa; ha < smallestUsualHa {
		remarks = append(remarks, fmt.Sprintf("the boundary holds only %.4f ha, check that it is the right one", ha))
	}
	if across := s.AcrossM(); across > widestUsualM {
		remarks = append(remarks, fmt.Sprintf("the boundary is %.0f km across, check that it is one paddock", across/1000))
	}
	return remarks
}

// AcrossM is the distance between opposite corners of the box, of latitudes and
// longitudes, round a shape: no less than its greatest width, in metres.
func (s Shape) AcrossM() float64 {
	if s.Corners() == 0 {
		return 0
	}
	b := s.box()
	south, north := LatLon{b.low.N, b.low.E}, LatLon{b.high.N, b.high.E}
	return max(WGS84.Between(south, north).DistanceM,
		WGS84.Between(LatLon{south.Lat, south.Lon}, LatLon{south.Lat, north.Lon}).DistanceM,
		WGS84.Between(LatLon{north.Lat, south.Lon}, LatLon{north.Lat, north.Lon}).DistanceM)
}

// box is the box round a shape in degrees, longitudes going on past 180.
func (s Shape) box() box {
	start := s[0].Outer[0].Lon
	var all Ring
	for _, polygon := range s {
		all = append(all, polygon.Outer.flat(start)...)
	}
	return boxOf(all)
}
