package seed

import (
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// Law says how the live seeds of a placement are counted out.
type Law string

const (
	Poisson  Law = "poisson"  // LiveSeeds is the mean; a placement gets more or fewer by chance
	Binomial Law = "binomial" // every placement gets exactly LiveSeeds
)

// Placements asks what share of placements holds at least one plant. EmergenceFraction,
// 0..1, is the share of live seeds that become established plants: the contractor's own
// figure. Either LiveSeeds in a placement, 0 or more, or the TargetFraction to reach,
// from 0 and below 1 (1 only where every seed becomes a plant, under the binomial law).
type Placements struct {
	EmergenceFraction float64  `json:"emergence_fraction"`
	Law               Law      `json:"law,omitempty"`
	LiveSeeds         *float64 `json:"live_seeds,omitempty"`
	TargetFraction    *float64 `json:"target_fraction,omitempty"`
}

// Filled is the share of placements, 0..1, with at least one plant. It is a ceiling: it
// takes seeds to live or die one by one, while a whole placement can fail together.
type Filled struct {
	FilledFraction  float64 `json:"filled_fraction"`
	LiveSeedsNeeded *int    `json:"live_seeds_needed,omitempty"` // least whole number that reaches the target

	of        Placements
	liveSeeds float64
}

// mostLiveSeeds is where whole numbers end that a placement could be asked to hold.
const mostLiveSeeds = 1e15

// FilledPlacements works out the share filled, or the live seeds that fill a target.
func FilledPlacements(p Placements) (Filled, error) {
	if p.Law == "" {
		p.Law = Poisson
	}
	if err := p.check(); err != nil {
		return Filled{}, err
	}
	if p.LiveSeeds != nil {
		return p.filledBy(*p.LiveSeeds), nil
	}
	least := p.leastSeeds()
	if least > mostLiveSeeds {
		return Filled{}, fault.Refuse("emergence_fraction", "at an emergence of %s no placement can hold seed enough, enter a lower target", unit.Plain(p.EmergenceFraction))
	}
	filled, needed := p.filledBy(least), int(least)
	filled.LiveSeedsNeeded = &needed
	return filled, nil
}

// FilledFraction is the share of placements, 0..1, with at least one plant where the
// plants in a placement follow the Poisson law with this mean, 0 or more.
func FilledFraction(meanPlants float64) float64 { return -math.Expm1(-meanPlants) }

// MeanPlantsToFill is the mean number of plants in a placement at which a share of the
// placements, from 0 and below 1, holds at least one: FilledFraction turned round.
func MeanPlantsToFill(filledFraction float64) float64 { return -math.Log1p(-filledFraction) }

// filledBy is the share that so many live seeds fill, by the law asked for.
func (p Placements) filledBy(liveSeeds float64) Filled {
	filled := Filled{of: p, liveSeeds: liveSeeds}
	if liveSeeds > 0 {
		filled.FilledFraction = FilledFraction(liveSeeds * p.plantsPerSeed())
	}
	return filled
}

// plantsPerSeed is the Poisson mean that one live seed adds: under the binomial law the
// one that leaves as many placements empty, without end where every seed becomes a plant.
func (p Placements) plantsPerSeed() float64 {
	if p.Law == Binomial {
		return MeanPlantsToFill(p.EmergenceFraction)
	}
	return p.EmergenceFraction
}

// leastSeeds is the least whole number of live seeds that reaches the target. Decimals
// such as 0.271 stand a little off in binary: a number that reaches the target exactly
// must not be missed for that, so the target is eased, and emergence raised, by as much.
func (p Placements) leastSeeds() float64 {
	const binary = 4e-16
	eased := p
	eased.EmergenceFraction = min(1, p.EmergenceFraction*(1+binary))
	each := eased.plantsPerSeed()
	if *p.TargetFraction == 0 || math.IsInf(each, 1) {
		return math.Ceil(*p.TargetFraction)
	}
	return math.Ceil(MeanPlantsToFill(*p.TargetFraction*(1-binary)) / each * (1 - binary))
}

func (p Placements) check() error {
	switch {
	case !(p.EmergenceFraction >= 0 && p.EmergenceFraction <= 1):
		return fault.Refuse("emergence_fraction", "emergence is %s, enter the share of live seeds that become plants, from 0 to 1", unit.Plain(p.EmergenceFraction))
	case p.Law != Poisson && p.Law != Binomial:
		return fault.Refuse("law", "law is %q, enter %q or %q", p.Law, Poisson, Binomial)
	case p.LiveSeeds == nil && p.TargetFraction == nil:
		return fault.Refuse("live_seeds", "live_seeds is missing, enter it or target_fraction")
	case p.LiveSeeds != nil && p.TargetFraction != nil:
		return fault.Refuse("target_fraction", "live_seeds and target_fraction are both given, enter one of them")
	case p.LiveSeeds != nil && !(*p.LiveSeeds >= 0 && *p.LiveSeeds <= mostLiveSeeds):
		return fault.Refuse("live_seeds", "live seeds in a placement is %s, enter a figure of 0 or more", unit.Plain(*p.LiveSeeds))
	case p.TargetFraction != nil:
		return p.checkTarget()
	}
	return nil
}

func (p Placements) checkTarget() error {
	target, certain := *p.TargetFraction, p.Law == Binomial && p.EmergenceFraction == 1
	switch {
	case !(target >= 0 && target <= 1), target == 1 && !certain:
		return fault.Refuse("target_fraction", "the target is %s, enter a share from 0 and below 1: by chance some placement always stays empty", unit.Plain(target))
	case target > 0 && p.EmergenceFraction == 0:
		return fault.Refuse("emergence_fraction", "emergence is 0, so no placement is ever filled: enter a share above 0")
	}
	return nil
}

// Working shows the law and the share filled.
func (f Filled) Working() working.Steps {
	formula, source := "1 - e^(-live seeds x emergence)", "Poisson law, seeds taken as independent; a whole placement can fail together, so a ceiling"
	if f.of.Law == Binomial {
		formula, source = "1 - (1 - emergence)^live seeds", "binomial law, seeds taken as independent; a whole placement can fail together, so a ceiling"
	}
	steps := working.Steps{}.Add("emergence", "the contractor's own figure", working.Number(f.of.EmergenceFraction, 4), "fraction of live seeds", "")
	if f.LiveSeedsNeeded != nil {
		steps = steps.Add("target", "asked for", working.Number(*f.of.TargetFraction, 4), "fraction of placements", "")
	}
	return steps.
		Add("live seeds in a placement", "given, or the least whole number that reaches the target", working.Number(f.liveSeeds, 2), "live seeds", "").
		Add("placements filled", formula, working.Number(f.FilledFraction, 4), "fraction of placements", source)
}
