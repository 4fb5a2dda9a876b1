package seed_test

import (
	"fmt"
	"strings"
	"testing"

	"rowtally/internal/seed"
	"rowtally/internal/working"
)

// steps writes a working as a page would, a line a step.
func steps[Result working.Shown](t *testing.T, result Result, err error) string {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, s := range result.Working() {
		if s.Step == "" || s.Formula == "" {
			t.Errorf("a step without name or formula: %+v", s)
		}
		fmt.Fprintf(&b, "%s = %s %s (%s)\n", s.Step, s.Value, s.Unit, s.Source)
	}
	return b.String()
}

func TestWorkingsHoldTheFiguresShown(t *testing.T) {
	germination, germinationErr := seed.JudgeGermination(testOf(95, 78, 86, 85))
	agreement, agreementErr := seed.CompareTests(seed.TwoTests{FirstPercent: 93, SecondPercent: 87, Seeds: 200})
	limits, limitsErr := seed.IntervalOf(seed.Counted{Successes: 190, Trials: 200, Method: seed.ClopperPearson})
	live, liveErr := seed.LiveSeedOf(seed.PureLiveSeed{PurityPercent: 95, ViablePercent: pointer(85.0), LiveRate: pointer(0.12)})
	rice := seed.Longevity{KE: 8.242, CW: 4.345, CH: 0.0307, CQ: 0.000501}
	keeping, keepingErr := seed.Keep(seed.Storage{Longevity: rice, MoisturePercent: 10, TemperatureC: 5,
		InitialPercent: pointer(98.0), FinalPercent: pointer(95.0), Days: pointer(365.0)})
	full, fullErr := seed.FilledPlacements(seed.Placements{EmergenceFraction: 0.05, Law: seed.Binomial, TargetFraction: pointer(0.95)})
	for _, c := range []struct{ shown, want string }{
		{steps(t, germination, germinationErr), "range allowed = 14 % (US 7 CFR 201.55(a)"},
		{steps(t, germination, germinationErr), "verdict = retest: replicates differ by 17, at most 14  ("},
		{steps(t, agreement, agreementErr), "tolerance = 8 % (US 7 CFR 201.59"},
		{steps(t, limits, limitsErr), "upper limit = 0.9758 fraction (Clopper & Pearson 1934"},
		{steps(t, live, liveErr), "seed as bagged = 0.1486 as the live rate"},
		{steps(t, keeping, keepingErr), "time to the final viability = 2\u2009201 days (Ellis & Roberts 1980"},
		{steps(t, keeping, keepingErr), "sigma = 5\u2009382.4 days"},
		{steps(t, full, fullErr), "live seeds in a placement = 59.00 live seeds"},
	} {
		if !strings.Contains(c.shown, c.want) {
			t.Errorf("no %q in\n%s", c.want, c.shown)
		}
	}
}
