package seed

import (
	"errors"

	"rowtally/internal/fault"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// Quality is what a lot's test certificate says of its worth, in %: purity above 0 and
// up to 100, germination and hard seed 0 to 100 and together no more than 100. Fill has
// no place here: the laboratory's germination is per seed unit as the rules define it,
// and already counts an empty fruit as one that did not germinate.
type Quality struct {
	PurityPercent      float64 `json:"purity_percent"`
	GerminationPercent float64 `json:"germination_percent"`
	HardPercent        float64 `json:"hard_percent,omitempty"`
	CountHard          bool    `json:"count_hard,omitempty"` // whether hard seed counts as live
}

// Check refuses figures out of range, all of them at once.
func (q Quality) Check() error {
	return errors.Join(
		percentageAboveZero("purity_percent", "purity", q.PurityPercent),
		percentage("germination_percent", "germination", q.GerminationPercent),
		percentage("hard_percent", "hard seed", q.HardPercent),
		q.checkSum(),
	)
}

func (q Quality) checkSum() error {
	if sum := q.GerminationPercent + q.HardPercent; sum > 100+rounding {
		return fault.Refuse("hard_percent", "germination %s %% and hard seed %s %% make %s %%, enter figures of no more than 100 %% together",
			unit.Plain(q.GerminationPercent), unit.Plain(q.HardPercent), unit.Plain(sum))
	}
	return nil
}

// LivePercent is the share of pure seed units that is counted as live: germination, and
// hard seed where it counts.
func (q Quality) LivePercent() float64 {
	if q.CountHard {
		return q.GerminationPercent + q.HardPercent
	}
	return q.GerminationPercent
}

// LiveFraction is the pure live seed of the lot, 0..1 of its mass.
func (q Quality) LiveFraction() float64 {
	return pureLivePercent(q.PurityPercent, q.LivePercent()) / 100
}

// pureLivePercent is the one formula of pure live seed.
// Source: Society for Range Management 1998, Glossary of terms, 4th ed., entry PLS.
func pureLivePercent(purityPercent, livePercent float64) float64 {
	return purityPercent * livePercent / 100
}

// PureLiveSeed asks what share of a lot is pure live seed, and how much of the lot gives
// a rate of it. Either GerminationPercent (with hard and dormant seed, which count), or
// ViablePercent of a tetrazolium test. LiveRate above 0 has any unit.
type PureLiveSeed struct {
	PurityPercent      float64  `json:"purity_percent"`
	GerminationPercent *float64 `json:"germination_percent,omitempty"`
	HardPercent        *float64 `json:"hard_percent,omitempty"`
	DormantPercent     *float64 `json:"dormant_percent,omitempty"`
	ViablePercent      *float64 `json:"viable_percent,omitempty"`
	LiveRate           *float64 `json:"live_rate,omitempty"`
}

// LiveSeed is the pure live seed of a lot in % of its mass; BulkRate, in the unit of the
// live rate asked for, is how much of the lot as bagged holds that rate.
type LiveSeed struct {
	PLSPercent float64  `json:"pls_percent"`
	BulkRate   *float64 `json:"bulk_rate,omitempty"`

	of          PureLiveSeed
	livePercent float64
}

// LiveSeedOf works out pure live seed.
func LiveSeedOf(p PureLiveSeed) (LiveSeed, error) {
	if err := p.check(); err != nil {
		return LiveSeed{}, err
	}
	out := LiveSeed{of: p, livePercent: p.livePercent()}
	out.PLSPercent = pureLivePercent(p.PurityPercent, out.livePercent)
	if p.LiveRate == nil {
		return out, nil
	}
	if out.PLSPercent == 0 {
		return LiveSeed{}, fault.Refuse("live_rate", "the lot has no live seed: choose another lot")
	}
	bulk := *p.LiveRate / out.PLSPercent * 100
	out.BulkRate = &bulk
	return out, finite("live_rate", bulk)
}

func (p PureLiveSeed) livePercent() float64 {
	if p.ViablePercent != nil {
		return *p.ViablePercent
	}
	return *p.GerminationPercent + or(p.HardPercent, 0) + or(p.DormantPercent, 0)
}

func (p PureLiveSeed) check() error {
	if err := percentageAboveZero("purity_percent", "purity", p.PurityPercent); err != nil {
		return err
	}
	if p.LiveRate != nil && !(*p.LiveRate > 0) {
		return fault.Refuse("live_rate", "the live rate is %s, enter a rate above 0", unit.Plain(*p.LiveRate))
	}
	if p.ViablePercent != nil {
		return p.checkViable()
	}
	return p.checkGermination()
}

func (p PureLiveSeed) checkViable() error {
	switch {
	case p.GerminationPercent != nil:
		return fault.Refuse("viable_percent", "germination and viable seed are both given, enter one of them")
	case p.HardPercent != nil:
		return fault.Refuse("hard_percent", "viable seed already holds the hard seed, leave one of them out")
	case p.DormantPercent != nil:
		return fault.Refuse("dormant_percent", "viable seed already holds the dormant seed, leave one of them out")
	}
	return percentage("viable_percent", "viable seed", *p.ViablePercent)
}

func (p PureLiveSeed) checkGermination() error {
	if p.GerminationPercent == nil {
		return fault.Refuse("germination_percent", "germination is missing, enter it or viable_percent")
	}
	if err := errors.Join(
		percentage("germination_percent", "germination", *p.GerminationPercent),
		percentage("hard_percent", "hard seed", or(p.HardPercent, 0)),
		percentage("dormant_percent", "dormant seed", or(p.DormantPercent, 0)),
	); err != nil {
		return err
	}
	if live := p.livePercent(); live > 100+rounding {
		return fault.Refuse("germination_percent", "germination, hard and dormant seed make %s %%, enter figures of no more than 100 %% together", unit.Plain(live))
	}
	return nil
}

func or(v *float64, otherwise float64) float64 {
	if v == nil {
		return otherwise
	}
	return *v
}

// Working shows what counted as live, and the two figures.
func (l LiveSeed) Working() working.Steps {
	live := "germination + hard + dormant"
	if l.of.ViablePercent != nil {
		live = "viable seed of the tetrazolium test"
	}
	steps := working.Steps{}.
		Add("purity", "as tested", working.Number(l.of.PurityPercent, 2), "%", "").
		Add("live", live, working.Number(l.livePercent, 2), "%", "").
		Add("pure live seed", "purity x live / 100", working.Number(l.PLSPercent, 2), "%",
			"Society for Range Management 1998, Glossary of terms, 4th ed., entry PLS")
	if l.BulkRate != nil {
		steps = steps.Add("seed as bagged", "live rate / (pure live seed / 100)", working.Number(*l.BulkRate, 4), "as the live rate", "")
	}
	return steps
}
