package seed

import (
	"fmt"

	"rowtally/internal/working"
)

// GerminationCounts are the replicates of one germination test of a lot.
type GerminationCounts struct {
	Replicates []Replicate `json:"replicates"`
}

// PercentInterval holds the limits of a share in %.
type PercentInterval struct {
	Level       float64        `json:"level"`
	Method      IntervalMethod `json:"method"`
	LowPercent  float64        `json:"low_percent"`
	HighPercent float64        `json:"high_percent"`
}

// Germination is what a germination test says.
type Germination struct {
	Seeds                   int             `json:"seeds"`
	GerminationPercent      int             `json:"germination_percent"`       // as a certificate prints it
	GerminationExactPercent float64         `json:"germination_exact_percent"` // normal seedlings
	LivePercent             float64         `json:"live_percent"`              // normal, hard and fresh
	RangePercent            float64         `json:"range_percent"`             // highest less lowest replicate
	ToleratedRangePercent   *int            `json:"tolerated_range_percent"`   // nil where the table has no row
	WithinTolerance         *bool           `json:"within_tolerance"`          // nil likewise
	Verdict                 string          `json:"verdict"`
	Interval                PercentInterval `json:"interval"`

	normal, live, replicates int
}

// JudgeGermination works out a germination test and looks whether its replicates agree.
// Where they differ by more than the published table allows, the lot wants a retest.
func JudgeGermination(test GerminationCounts) (Germination, error) {
	if err := checkReplicates(test.Replicates); err != nil {
		return Germination{}, err
	}
	g := Germination{replicates: len(test.Replicates)}
	for _, r := range test.Replicates {
		g.Seeds += r.Seeds
		g.normal += r.Normal
		g.live += r.live()
	}
	g.GerminationPercent = (200*g.normal + g.Seeds) / (2 * g.Seeds) // halves up, exactly
	g.GerminationExactPercent = 100 * float64(g.normal) / float64(g.Seeds)
	g.LivePercent = 100 * float64(g.live) / float64(g.Seeds)
	g.RangePercent = spread(test.Replicates)
	g.judge(test.Replicates)
	return g, g.limit()
}

// spread is the highest less the lowest germination of the replicates, in %.
func spread(replicates []Replicate) float64 {
	low, high := 100.0, 0.0
	for _, r := range replicates {
		low, high = min(low, r.germinatedPercent()), max(high, r.germinatedPercent())
	}
	return high - low
}

// judge compares the range with the table, where the table speaks of such a test.
func (g *Germination) judge(replicates []Replicate) {
	for _, r := range replicates {
		if r.Seeds != 100 {
			g.Verdict = "not judged: the published table holds for replicates of 100 seeds"
			return
		}
	}
	most, known := TolerableRangePercent(g.GerminationPercent, g.replicates)
	switch {
	case g.replicates != 2 && g.replicates != 4:
		g.Verdict = "not judged: the published table holds for two or four replicates"
	case !known:
		g.Verdict = fmt.Sprintf("not judged: the published table has no row at %d %%", g.GerminationPercent)
	default:
		within := g.RangePercent <= float64(most)
		g.ToleratedRangePercent, g.WithinTolerance = &most, &within
		g.Verdict = "accept"
		if !within {
			g.Verdict = fmt.Sprintf("retest: replicates differ by %.0f, at most %d", g.RangePercent, most)
		}
	}
}

// limit puts the interval around the germination.
func (g *Germination) limit() error {
	i, err := IntervalOf(Counted{Successes: g.normal, Trials: g.Seeds, Method: ClopperPearson})
	g.Interval = PercentInterval{CertificateLevel, ClopperPearson, 100 * i.LowFraction, 100 * i.HighFraction}
	return err
}

// Working shows the counts, the shares, and how the replicates were judged.
func (g Germination) Working() working.Steps {
	steps := working.Steps{}.
		Add("seeds put to germinate", "sum over the replicates", working.Number(float64(g.Seeds), 0), "seeds", "").
		Add("normal seedlings", "sum over the replicates", working.Number(float64(g.normal), 0), "seeds", "").
		Add("germination", "100 x normal / seeds", working.Number(g.GerminationExactPercent, 2), "%", "").
		Add("germination as printed", "rounded to a whole number, halves up", working.Number(float64(g.GerminationPercent), 0), "%", "").
		Add("live", "100 x (normal + hard + fresh) / seeds", working.Number(g.LivePercent, 2), "%", "").
		Add("range", "highest less lowest replicate", working.Number(g.RangePercent, 1), "%", "")
	if g.ToleratedRangePercent != nil {
		steps = steps.Add("range allowed", fmt.Sprintf("table at %d %%, %d replicates of 100 seeds", g.GerminationPercent, g.replicates),
			working.Number(float64(*g.ToleratedRangePercent), 0), "%", toleranceSource)
	}
	const interval = "Clopper-Pearson, 95 %, counts of one lot taken as independent"
	return steps.
		Add("verdict", "range against range allowed", working.Text(g.Verdict), "", toleranceSource).
		Add("germination, low", interval, working.Number(g.Interval.LowPercent, 1), "%", "Clopper & Pearson 1934, Biometrika 26:404-413").
		Add("germination, high", interval, working.Number(g.Interval.HighPercent, 1), "%", "Clopper & Pearson 1934, Biometrika 26:404-413")
}
