package seed

import (
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// TwoTests are the results of two germination tests of one lot, or of a test and the
// label, in %. Seeds is how many each test put to germinate: 400, or 200 where the lot
// is a minor part of a mixture.
type TwoTests struct {
	FirstPercent  float64 `json:"first_percent"`
	SecondPercent float64 `json:"second_percent"`
	Seeds         int     `json:"seeds"`
}

// Agreement says whether two tests may be taken as tests of the same seed.
type Agreement struct {
	MeanPercent       float64 `json:"mean_percent"`
	DifferencePercent float64 `json:"difference_percent"`
	TolerancePercent  int     `json:"tolerance_percent"`
	Agree             bool    `json:"agree"`
	Verdict           string  `json:"verdict"`

	seeds int
}

// retestTolerance is the table of 7 CFR 201.63: from a mean of so many % upwards, the
// points that two tests of 400 seeds may differ by. The last row goes down to 0 %.
var retestTolerance = []struct {
	fromPercent float64
	points      int
}{{96, 5}, {90, 6}, {80, 7}, {70, 8}, {60, 9}, {0, 10}}

const (
	retestSource = "US 7 CFR 201.59 and 201.63 (two tests of one lot, looked up at their mean), 2015 edition"
	addedFor200  = 2    // points, 7 CFR 201.63, last sentence
	rounding     = 1e-9 // a difference that is the tolerance but for binary rounding passes
)

// CompareTests looks whether two tests of one lot agree.
func CompareTests(t TwoTests) (Agreement, error) {
	if err := t.check(); err != nil {
		return Agreement{}, err
	}
	a := Agreement{
		MeanPercent:       (t.FirstPercent + t.SecondPercent) / 2,
		DifferencePercent: math.Abs(t.FirstPercent - t.SecondPercent),
		seeds:             t.Seeds,
	}
	a.TolerancePercent = retestPoints(a.MeanPercent, t.Seeds)
	a.Agree = a.DifferencePercent <= float64(a.TolerancePercent)+rounding
	a.Verdict = "the tests agree"
	if !a.Agree {
		a.Verdict = "the tests differ by " + unit.Plain(a.DifferencePercent) + ", at most " + unit.Plain(float64(a.TolerancePercent)) + ": test again"
	}
	return a, nil
}

func (t TwoTests) check() error {
	if err := percentage("first_percent", "the first test", t.FirstPercent); err != nil {
		return err
	}
	if err := percentage("second_percent", "the second test", t.SecondPercent); err != nil {
		return err
	}
	if t.Seeds != 400 && t.Seeds != 200 {
		return fault.Refuse("seeds", "seeds is %d, enter 400 or 200: the published tolerances hold for these", t.Seeds)
	}
	return nil
}

func retestPoints(meanPercent float64, seeds int) int {
	points := 0
	for _, row := range retestTolerance {
		if meanPercent >= row.fromPercent {
			points = row.points
			break
		}
	}
	if seeds == 200 {
		points += addedFor200
	}
	return points
}

// Working shows the mean, the difference and the tolerance looked up.
func (a Agreement) Working() working.Steps {
	lookUp := "table at the mean, 400 seeds"
	if a.seeds == 200 {
		lookUp = "table at the mean, plus 2 points for 200 seeds"
	}
	return working.Steps{}.
		Add("mean", "(first + second) / 2", working.Number(a.MeanPercent, 1), "%", "").
		Add("difference", "larger less smaller", working.Number(a.DifferencePercent, 1), "%", "").
		Add("tolerance", lookUp, working.Number(float64(a.TolerancePercent), 0), "%", retestSource).
		Add("verdict", "difference against tolerance", working.Text(a.Verdict), "", retestSource)
}
