package ground

import (
	"math"

	"rowtally/internal/fault"
)

// Spot is a measured height at a point of a plane.
type Spot struct {
	At      Point
	HeightM float64
}

// Fall is the plane that fits measured heights best, by least squares.
type Fall struct {
	EastRise, NorthRise float64 // metres up per metre east, north
	RSquared            float64 // share of the heights' variance that the plane explains, 0..1
	ResidualM           float64 // root mean square of the heights' distance from the plane
	Spots               int
}

// leastSpread is the least ratio of the spots' spread across to their spread along
// their main direction: below it the slope across is guesswork. Our choice.
const leastSpread = 0.05

// FitFall fits a plane to at least three heights that do not lie nearly on one line.
// With three heights it passes through all of them and RSquared says nothing.
func FitFall(spots []Spot) (Fall, error) {
	if len(spots) < 3 {
		return Fall{}, fault.Refuse("", "there are %d heights, a fall needs at least 3 that are not on one line", len(spots))
	}
	for i, s := range spots {
		if sum := math.Abs(s.At.E) + math.Abs(s.At.N) + math.Abs(s.HeightM); !(sum < 1e8) {
			return Fall{}, fault.Refuse("", "height %d is not a number of metres at a point in metres", i+1)
		}
	}
	m := momentsOf(spots)
	if long, short := m.spreads(); !(short > leastSpread*long) {
		return Fall{}, fault.Refuse("", "the heights lie nearly on one line (spread over %.1f m one way and %.1f m the other), add some to its sides", long, short)
	}
	det := m.ee*m.nn - m.en*m.en
	f := Fall{EastRise: (m.ez*m.nn - m.nz*m.en) / det, NorthRise: (m.nz*m.ee - m.ez*m.en) / det, Spots: len(spots)}
	left := max(0, m.zz-f.EastRise*m.ez-f.NorthRise*m.nz)
	f.ResidualM = math.Sqrt(left)
	f.RSquared = 1
	if m.zz > 0 {
		f.RSquared = 1 - left/m.zz
	}
	return f, nil
}

// GradeAlong is the rise per metre along a bearing: negative where the ground falls.
func (f Fall) GradeAlong(bearingDeg float64) float64 {
	b := ofDeg(bearingDeg)
	return f.EastRise*b.sin + f.NorthRise*b.cos
}

// Steepest is the steepest fall in metres per metre, and its bearing downhill, 0..360.
func (f Fall) Steepest() (grade, downhillDeg float64) {
	return math.Hypot(f.EastRise, f.NorthRise), compass(direction{-f.EastRise, -f.NorthRise}.deg())
}

// moments are the mean products of what is left of east, north and height when their
// means are taken off.
type moments struct{ ee, en, nn, ez, nz, zz float64 }

func momentsOf(spots []Spot) moments {
	count := float64(len(spots))
	var middle Spot
	for _, s := range spots {
		middle.At.E += s.At.E / count
		middle.At.N += s.At.N / count
		middle.HeightM += s.HeightM / count
	}
	var m moments
	for _, s := range spots {
		d, z := s.At.minus(middle.At), s.HeightM-middle.HeightM
		m.ee += d.E * d.E / count
		m.en += d.E * d.N / count
		m.nn += d.N * d.N / count
		m.ez += d.E * z / count
		m.nz += d.N * z / count
		m.zz += z * z / count
	}
	return m
}

// spreads are the standard deviations along the spots' main direction and across it.
func (m moments) spreads() (long, short float64) {
	middle, half := (m.ee+m.nn)/2, math.Hypot((m.ee-m.nn)/2, m.en)
	return math.Sqrt(middle + half), math.Sqrt(max(0, middle-half))
}
