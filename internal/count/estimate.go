package count

import (
	"fmt"
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// ownFrom is the number of stretches from which a count tells by itself how much neighbours
// fail together. With fewer, the scatter between stretches is known worse than the guess.
// Our own rule.
const ownFrom = 10

// leastBothWays is how many placements, by what they are worth, must be occupied and how many
// empty before the error is the same to either side. Common practice, no source.
const leastBothWays = 5

// Estimate is the share of placements occupied with its limits at 95 %.
type Estimate struct {
	Stretches     int
	Placements    int
	Occupied      int
	ShareFraction float64
	LowFraction   float64
	HighFraction  float64
	Factor        float64 // by which neighbours that fail together widen the variance; 1 or more
	Rho           float64 // behind the factor
	Own           bool    // the factor is from the count's own stretches; else from the plan's rho
	Even          bool    // the limits lie as far to either side

	deviate float64 // Student's t, or the normal deviate where the factor is not the count's own
}

// Judge works out the share of a count. Stretches are clusters: with 10 or more the variance
// is that of their ratio estimator between stretches, with Student's t for stretches less
// one, and is never taken below that of placements drawn alone; with fewer, the plan's rho
// gives the factor. Where under five placements' worth is occupied, or is empty, the limits
// are the exact ones at the number of placements that the count is worth.
// Sources: Cochran 1977, Sampling Techniques, 3.12; Kish 1965, Survey Sampling, 5.4; Korn &
// Graubard 1998, Survey Methodology 24:193-201.
func Judge(stretches []Stretch, priorRho float64) (Estimate, error) {
	e := Estimate{Stretches: len(stretches), deviate: deviate95, Even: true}
	squares := 0.0
	for _, s := range stretches {
		if err := s.check(); err != nil {
			return Estimate{}, err
		}
		e.Placements += s.Placements
		e.Occupied += s.Occupied
		squares += float64(s.Placements) * float64(s.Placements)
	}
	if e.Placements == 0 {
		return Estimate{}, fault.Refuse("stretches", "nothing is counted yet: enter at least one stretch")
	}
	e.ShareFraction = float64(e.Occupied) / float64(e.Placements)
	perStretch := squares / float64(e.Placements)
	e.Rho, e.Factor = priorRho, FactorOf(perStretch, priorRho)
	if own := ownFactor(stretches, e.ShareFraction); own > 0 {
		e.Own, e.Factor, e.Rho = true, max(1, own), 0
		if perStretch > 1 {
			e.Rho = (e.Factor - 1) / (perStretch - 1)
		}
		e.deviate = seed.StudentDeviate(seed.CertificateLevel, float64(e.Stretches-1))
	}
	e.limit()
	return e, nil
}

// ownFactor is the variance between stretches over that of placements drawn alone; 0 where
// the stretches are too few, or all alike.
func ownFactor(stretches []Stretch, share float64) float64 {
	k, placements, sum := float64(len(stretches)), 0.0, 0.0
	for _, s := range stretches {
		off := float64(s.Occupied) - share*float64(s.Placements)
		sum += off * off
		placements += float64(s.Placements)
	}
	if k < ownFrom || share == 0 || share == 1 {
		return 0
	}
	between := k / (k - 1) * sum / (placements * placements)
	return between / (share * (1 - share) / placements)
}

// worth is how many placements drawn alone would tell as much.
func (e Estimate) worth() float64 { return float64(e.Placements) / e.Factor }

// error is the standard error of the share.
func (e Estimate) error() float64 {
	return math.Sqrt(e.ShareFraction * (1 - e.ShareFraction) / e.worth())
}

func (e *Estimate) limit() {
	p, worth := e.ShareFraction, e.worth()
	if e.Even = min(p, 1-p)*worth >= leastBothWays; e.Even {
		off := e.deviate * e.error()
		e.LowFraction, e.HighFraction = max(0, p-off), min(1, p+off)
		return
	}
	worth *= math.Pow(deviate95/e.deviate, 2)
	e.LowFraction, e.HighFraction = seed.ExactLimits(p*worth, worth, seed.CertificateLevel)
}

// HalfFraction is the error to either side, or half the width where the sides differ.
func (e Estimate) HalfFraction() float64 { return (e.HighFraction - e.LowFraction) / 2 }

// Says gives the share with its error: "61.1 % ± 9.6", or its limits where the sides differ.
func (e Estimate) Says() string {
	says := unit.Grouped(100*e.ShareFraction, 1) + " %"
	if e.Even {
		return says + " ± " + unit.Grouped(100*e.HalfFraction(), 1)
	}
	return fmt.Sprintf("%s (%s to %s)", says, unit.Grouped(100*e.LowFraction, 1), unit.Grouped(100*e.HighFraction, 1))
}

// PerHa is occupied placements to the hectare with their limits.
type PerHa struct{ Plants, Low, High float64 }

// PerHa turns the share into occupied placements per hectare, from the placements per
// hectare.
func (e Estimate) PerHa(placementsPerHa float64) PerHa {
	return PerHa{e.ShareFraction * placementsPerHa, e.LowFraction * placementsPerHa, e.HighFraction * placementsPerHa}
}

// FactorSays tells where the allowance for neighbours comes from.
func (e Estimate) FactorSays() string {
	switch {
	case e.Own && e.Factor == 1:
		return fmt.Sprintf("Its %d stretches show no neighbours failing together beyond chance.", e.Stretches)
	case e.Own:
		return fmt.Sprintf("Neighbours fail together: by its own %d stretches the variance is %s times that of placements drawn alone, and the error allows for it.", e.Stretches, unit.Grouped(e.Factor, 2))
	}
	return fmt.Sprintf("Neighbours fail together: with fewer than %d stretches the count cannot tell by how much, so the plan's %s is taken, %s times the variance of placements drawn alone.", ownFrom, unit.Plain(e.Rho), unit.Grouped(e.Factor, 2))
}

// Working shows share, factor and limits.
func (e Estimate) Working() working.Steps {
	how, source := "1 + (placements in a stretch − 1) × rho "+unit.Plain(e.Rho)+", the plan's", "Kish 1965, Survey Sampling, 5.4"
	name := "normal deviate"
	if e.Own {
		how, source = "variance between the stretches ÷ variance of placements alone, at least 1", "Cochran 1977, Sampling Techniques, 3.12"
		name = fmt.Sprintf("Student's t, %d degrees of freedom", e.Stretches-1)
	}
	limits, after := "share ± deviate × standard error", ""
	if !e.Even {
		limits, after = "exact limits at the placements that the count is worth", "Korn & Graubard 1998, Survey Methodology 24:193-201"
	}
	return working.Steps{}.
		Add("share occupied", fmt.Sprintf("%d ÷ %d placements", e.Occupied, e.Placements), working.Number(100*e.ShareFraction, 1), "%", Definition).
		Add("factor for neighbours failing together", how, working.Number(e.Factor, 2), "", source).
		Add("worth, as placements drawn alone", "placements ÷ factor", working.Number(e.worth(), 1), "placements", "").
		Add("standard error", "√(p (1 − p) ÷ worth)", working.Number(100*e.error(), 2), "points", "").
		Add(name, "95 %, two-sided", working.Number(e.deviate, 3), "", "").
		Add("lower limit", limits, working.Number(100*e.LowFraction, 1), "%", after).
		Add("upper limit", limits, working.Number(100*e.HighFraction, 1), "%", after)
}
