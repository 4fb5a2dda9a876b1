package count

import (
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// deviate95 is the standard normal deviate that 95 % lie within.
const deviate95 = 1.959963984540054

// GuessedRho is how much neighbours fail together before own counts tell: our own guess.
const GuessedRho = 0.1

// Wanted says how finely a share is to be known at 95 %. ShareFraction is the share expected
// and WithinFraction the error to either side, both above 0 and below 1; PerStretch is 1 to
// 200 placements; Rho, 0..1, is the correlation of neighbours within a stretch.
type Wanted struct {
	ShareFraction  float64
	WithinFraction float64
	PerStretch     int
	Rho            float64
}

// Size is how much is to be counted.
type Size struct {
	Stretches  int
	Placements int     // over all stretches, at least
	Alone      int     // placements that would do if none failed with its neighbours
	Factor     float64 // by which neighbours that fail together make it more

	of Wanted
}

// FactorOf is the design effect of stretches of m placements, 1 + (m-1) rho: by so much does
// a count in stretches vary more than one of single placements drawn alone.
// Source: Kish 1965, Survey Sampling, 5.4.
func FactorOf(perStretch, rho float64) float64 { return 1 + (perStretch-1)*rho }

// SizeOf works out how many stretches are wanted: p(1-p)(1.96/d)², in whole placements, times
// the design effect, in whole stretches. Many short stretches need fewer placements.
// Source: Cochran 1977, Sampling Techniques, 4.4.
func SizeOf(w Wanted) (Size, error) {
	if err := w.check(); err != nil {
		return Size{}, err
	}
	alone := math.Ceil(w.ShareFraction*(1-w.ShareFraction)*math.Pow(deviate95/w.WithinFraction, 2) - 1e-9)
	s := Size{Alone: int(alone), Factor: FactorOf(float64(w.PerStretch), w.Rho), of: w}
	s.Placements = int(math.Ceil(alone*s.Factor - 1e-9))
	s.Stretches = (s.Placements + w.PerStretch - 1) / w.PerStretch
	if s.Stretches > MostPlaces {
		return Size{}, fault.Refuse("within_percent", "that takes %d stretches, ask for no more than %d: allow a wider error, or longer stretches", s.Stretches, MostPlaces)
	}
	return s, nil
}

func (w Wanted) check() error {
	switch {
	case !(w.ShareFraction > 0 && w.ShareFraction < 1):
		return fault.Refuse("share_percent", "the share expected is %s %%, enter a figure above 0 and below 100", unit.Plain(100*w.ShareFraction))
	case !(w.WithinFraction > 0 && w.WithinFraction < 1):
		return fault.Refuse("within_percent", "the error allowed is %s points, enter a figure above 0 and below 100", unit.Plain(100*w.WithinFraction))
	case w.PerStretch < 1 || w.PerStretch > mostPerStretch:
		return fault.Refuse("per_stretch", "a stretch of %d placements is not to be counted, enter a whole number from 1 to %d", w.PerStretch, mostPerStretch)
	case !(w.Rho >= 0 && w.Rho <= 1):
		return fault.Refuse("rho", "how much neighbours fail together is %s, enter a figure from 0 to 1", unit.Plain(w.Rho))
	}
	return nil
}

// Working shows how the number of stretches follows.
func (s Size) Working() working.Steps {
	w := s.of
	return working.Steps{}.
		Add("placements, if none failed with its neighbours", "p (1 − p) (1.96 ÷ error)²", working.Number(float64(s.Alone), 0), "placements", "Cochran 1977, Sampling Techniques, 4.4").
		Add("share expected, p", "", working.Number(100*w.ShareFraction, 1), "%", "").
		Add("error allowed", "to either side, at 95 %", working.Number(100*w.WithinFraction, 1), "points", "").
		Add("neighbours failing together, rho", "", working.Number(w.Rho, 3), "", "").
		Add("factor", "1 + (placements in a stretch − 1) × rho", working.Number(s.Factor, 2), "", "Kish 1965, Survey Sampling, 5.4").
		Add("placements wanted", "placements × factor", working.Number(float64(s.Placements), 0), "placements", "").
		Add("stretches", "÷ placements in a stretch, rounded up", working.Number(float64(s.Stretches), 0), "stretches", "")
}
