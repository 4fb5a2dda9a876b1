package seed

import (
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// IntervalMethod names a way to put limits around a share that was counted.
type IntervalMethod string

const (
	ClopperPearson IntervalMethod = "clopper-pearson" // never covers less than its level
	Wilson         IntervalMethod = "wilson"          // covers its level on average; narrower
)

// mostTrials keeps the continued fraction short; no count in the trade comes near it.
const mostTrials = 10_000_000

// CertificateLevel is the level of the intervals shown beside germination tests.
const CertificateLevel = 0.95

// Counted asks for the interval around a counted share: Successes of Trials, at a
// two-sided Level above 0 and below 1 (0.95 when left out).
type Counted struct {
	Successes int            `json:"successes"`
	Trials    int            `json:"trials"`
	Level     *float64       `json:"level,omitempty"`
	Method    IntervalMethod `json:"method"`
}

// Interval holds the limits of a share, both 0..1.
type Interval struct {
	LowFraction  float64 `json:"low_fraction"`
	HighFraction float64 `json:"high_fraction"`

	of    Counted
	level float64
}

// IntervalOf puts limits around a counted share. Without a continuity correction.
// Sources: Clopper & Pearson 1934, Biometrika 26:404-413; Wilson 1927, Journal of the
// American Statistical Association 22:209-212.
func IntervalOf(c Counted) (Interval, error) {
	level := CertificateLevel
	if c.Level != nil {
		level = *c.Level
	}
	if err := c.check(level); err != nil {
		return Interval{}, err
	}
	limits := wilsonLimits
	if c.Method == ClopperPearson {
		limits = clopperPearsonLimits
	}
	low, high := limits(c.Successes, c.Trials, level)
	return Interval{LowFraction: low, HighFraction: high, of: c, level: level}, nil
}

func (c Counted) check(level float64) error {
	switch {
	case c.Trials < 1 || c.Trials > mostTrials:
		return fault.Refuse("trials", "trials is %d, enter a whole number from 1 to %d", c.Trials, mostTrials)
	case c.Successes < 0 || c.Successes > c.Trials:
		return fault.Refuse("successes", "successes is %d of %d trials, enter a whole number from 0 to %d", c.Successes, c.Trials, c.Trials)
	case !(level > 0 && level < 1):
		return fault.Refuse("level", "level is %s, enter a figure above 0 and below 1, such as 0.95", unit.Plain(level))
	case c.Method != ClopperPearson && c.Method != Wilson:
		return fault.Refuse("method", "method is %q, enter %q or %q", c.Method, ClopperPearson, Wilson)
	}
	return nil
}

// clopperPearsonLimits are the shares at which a count as high, or as low, as the one
// found would come up with half of what the level leaves over.
func clopperPearsonLimits(successes, trials int, level float64) (low, high float64) {
	return ExactLimits(float64(successes), float64(trials), level)
}

// ExactLimits are the limits of a share by the counts' own law, for successes from 0 to
// trials; both may be parts of a whole, where a count is worth fewer trials than it has.
// Source: Clopper & Pearson 1934, Biometrika 26:404-413.
func ExactLimits(successes, trials, level float64) (low, high float64) {
	tail := (1 - level) / 2
	return exactLow(successes, trials, tail), 1 - exactLow(trials-successes, trials, tail)
}

func exactLow(successes, trials, tail float64) float64 {
	if successes <= 0 {
		return 0
	}
	return betaQuantile(tail, successes, trials-successes+1)
}

func wilsonLimits(successes, trials int, level float64) (low, high float64) {
	z := math.Sqrt2 * math.Erfinv(level)
	return wilsonLow(successes, trials, z), 1 - wilsonLow(trials-successes, trials, z)
}

func wilsonLow(successes, trials int, z float64) float64 {
	if successes == 0 {
		return 0 // what the formula gives before rounding
	}
	x, n := float64(successes), float64(trials)
	return (x + z*z/2 - z*math.Sqrt(x*(n-x)/n+z*z/4)) / (n + z*z)
}

// Working shows what was counted and the two limits.
func (i Interval) Working() working.Steps {
	source := map[IntervalMethod]string{
		ClopperPearson: "Clopper & Pearson 1934, Biometrika 26:404-413",
		Wilson:         "Wilson 1927, J. Am. Stat. Assoc. 22:209-212",
	}[i.of.Method]
	return working.Steps{}.
		Add("share counted", "successes / trials", working.Number(float64(i.of.Successes)/float64(i.of.Trials), 4), "fraction", "").
		Add("level", "two-sided", working.Number(i.level, 3), "fraction", "").
		Add("lower limit", string(i.of.Method), working.Number(i.LowFraction, 4), "fraction", source).
		Add("upper limit", string(i.of.Method), working.Number(i.HighFraction, 4), "fraction", source)
}
