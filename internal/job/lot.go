package job

import (
	"fmt"

	"rowtally/internal/money"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// LotFigures is what a seed lot is worth on a day: the test that counts and the live seed
// that follows from it. Without a test that counts only Lot, Day and State say anything.
type LotFigures struct {
	Lot     seed.Lot
	Day     unit.Date
	Tested  bool      // a readable test was finished by the day
	Test    seed.Test // the test that counts
	DueOn   unit.Date // from this day on the test no longer counts
	Due     bool
	Quality seed.Quality // what the mix is worked out from

	Taken string // how Quality differs from the test: "foreseen for 10 Aug 2026"; "" where it is the test's

	Germination seed.Germination
	PLSPercent  float64 // pure live seed, % of the lot's mass

	LivePerKg     float64 // live units per kg of the lot as it lies in the bag
	LivePerKgLow  float64 // limits at seed.CertificateLevel, from the test's counts alone
	LivePerKgHigh float64

	CostPerThousandLive money.Factor // without tax; 0 where no seed is live

	State string // in words: "ready to mix", "on hold: …", "retest overdue since 4 Mar 2026"
}

// LotToday works out what a lot is worth on a day. Tests of other lots, and those
// finished after the day, are passed over; of the rest the last one counts.
func LotToday(lot seed.Lot, tests []seed.Test, day unit.Date) LotFigures {
	f := LotFigures{Lot: lot, Day: day}
	f.Test, f.Tested = seed.Counts(testsOf(lot.ID, tests), day, lot.RetestMonths)
	if f.Tested {
		f.weigh()
	}
	f.State = f.state()
	return f
}

func testsOf(lotID int64, tests []seed.Test) []seed.Test {
	var own []seed.Test
	for _, t := range tests {
		if t.LotID == lotID {
			own = append(own, t)
		}
	}
	return own
}

// weigh reads the test that counts; a test that cannot be read is as good as none.
func (f *LotFigures) weigh() {
	germination, err := seed.JudgeGermination(seed.GerminationCounts{Replicates: f.Test.Replicates})
	if err != nil {
		f.Tested, f.Test = false, seed.Test{}
		return
	}
	f.Germination = germination
	f.DueOn = f.Test.DueOn(f.Lot.RetestMonths)
	f.Due = f.Day >= f.DueOn
	f.Quality = seed.Quality{
		PurityPercent: f.Lot.PurityPercent,
		HardPercent:   hardPercent(f.Test.Replicates),
		CountHard:     f.Lot.CountHard,
	}
	f.weighAs(germination.GerminationExactPercent)
	f.limit()
}

// weighAs works out live seed and what it costs at a germination in %.
func (f *LotFigures) weighAs(germinationPercent float64) {
	f.Quality.GerminationPercent = min(germinationPercent, 100-f.Quality.HardPercent)
	f.PLSPercent = 100 * f.Quality.LiveFraction()
	f.LivePerKg = f.Lot.UnitsPerKg * f.Quality.LiveFraction()
	f.CostPerThousandLive = money.Factor{}
	if f.LivePerKg > 0 {
		const decimals = 4
		f.CostPerThousandLive = f.Lot.ReadyPerKg().Times(money.Whole(1000)).Over(money.FactorOf(f.LivePerKg, decimals), decimals)
	}
}

func hardPercent(replicates []seed.Replicate) float64 {
	hard, seeds := 0, 0
	for _, r := range replicates {
		seeds += r.Seeds
		if r.Hard != nil {
			hard += *r.Hard
		}
	}
	return 100 * float64(hard) / float64(seeds)
}

// limit carries the interval of the counted share over to live seed.
func (f *LotFigures) limit() {
	counted := seed.Counted{Method: seed.ClopperPearson}
	for _, r := range f.Test.Replicates {
		counted.Trials += r.Seeds
		counted.Successes += r.Normal
		if f.Lot.CountHard && r.Hard != nil {
			counted.Successes += *r.Hard
		}
	}
	if share, err := seed.IntervalOf(counted); err == nil {
		purePerKg := f.Lot.UnitsPerKg * f.Lot.PurityPercent / 100
		f.LivePerKgLow, f.LivePerKgHigh = purePerKg*share.LowFraction, purePerKg*share.HighFraction
	}
}

// Doubtful tells whether the replicates of the test differ by more than chance allows.
func (f LotFigures) Doubtful() bool {
	return f.Tested && f.Germination.WithinTolerance != nil && !*f.Germination.WithinTolerance
}

// Counting says whether a test of the lot counts on the day, and why.
func (f LotFigures) Counting(t seed.Test) string {
	switch {
	case t.TestedOn > f.Day:
		return fmt.Sprintf("not yet: finished after %s", f.Day)
	case t.IsA(seed.CutTest):
		return "never: a cut test finds filled seed, which is not yet alive"
	case (!f.Tested || t.ID != f.Test.ID) && t.IsA(seed.Tetrazolium):
		return "no: a germination test counts"
	case !f.Tested || t.ID != f.Test.ID:
		return "no: a later test counts"
	case t.IsA(seed.Tetrazolium):
		return fmt.Sprintf("yes, until %s, for want of a germination test in date; it counts dormant seed as live", f.DueOn)
	case f.Due:
		return fmt.Sprintf("yes, as the last one; a retest was due on %s", f.DueOn)
	}
	return fmt.Sprintf("yes, as the last one, until %s", f.DueOn)
}

// WantsTest tells whether a sample should go to the laboratory.
func (f LotFigures) WantsTest() bool { return !f.Tested || f.Due || f.Doubtful() }

// LivePerG is live units per gram of the lot as it lies in the bag.
func (f LotFigures) LivePerG() float64 { return f.LivePerKg / 1000 }

// LivePerGLow and LivePerGHigh are the limits of LivePerG.
func (f LotFigures) LivePerGLow() float64  { return f.LivePerKgLow / 1000 }
func (f LotFigures) LivePerGHigh() float64 { return f.LivePerKgHigh / 1000 }

func (f LotFigures) state() string {
	switch {
	case f.Lot.OnHold():
		return "on hold: " + f.Lot.HoldReason
	case !f.Tested:
		return "never tested"
	case f.Due:
		return fmt.Sprintf("retest overdue since %s", f.DueOn)
	case f.Doubtful():
		return "retest: replicates too far apart"
	case f.LivePerKg == 0:
		return "no live seed"
	}
	return "ready to mix"
}

// Says is the sentence that the lot's page begins with.
func (f LotFigures) Says() string {
	switch {
	case f.Lot.OnHold():
		return fmt.Sprintf("On hold since %s: %s. Nothing can be mixed from it.", f.Lot.HeldOn, f.Lot.HoldReason)
	case !f.Tested:
		return "Never tested: send a sample before it is quoted or mixed."
	case f.Due:
		return fmt.Sprintf("A retest was due on %s: send a sample.", f.DueOn)
	case f.Doubtful():
		return "The replicates of its test are too far apart to be believed: have it tested again."
	case f.LivePerKg == 0:
		return "Its test found no live seed."
	}
	return fmt.Sprintf("Ready to mix. Its test counts until %s.", f.DueOn)
}

// Working shows how live seed follows from the label and the test.
func (f LotFigures) Working() working.Steps {
	if !f.Tested {
		return nil
	}
	hard := "hard seed counts as live"
	if !f.Lot.CountHard {
		hard = "hard seed does not count as live for this lot"
	}
	const interval = "95 % limits of the counts x purity x units"
	return working.Steps{}.
		Add("units of pure seed", "one unit is one "+f.Lot.Unit+", as the test counted", working.Number(f.Lot.UnitsPerKg, 0), "per kg", "the lot's label").
		Add("purity", "by mass", working.Number(f.Lot.PurityPercent, 1), "%", "the lot's certificate").
		Add(f.testedWhat(), fmt.Sprintf("%s of %d seeds", f.countedWhat(), f.Germination.Seeds), working.Number(f.Germination.GerminationExactPercent, 2), "%", f.testSource()).
		Add("hard seed", hard, working.Number(f.Quality.HardPercent, 2), "%", f.testSource()).
		Add("pure live seed", "purity x live / 100", working.Number(f.PLSPercent, 2), "%", "").
		Add("live seed", "units of pure seed x pure live seed / 100", working.Number(f.LivePerKg, 0), "per kg", "").
		Add("live seed", "per kg / 1000", working.Number(f.LivePerG(), 1), "per g", "").
		Add("lower limit", interval, working.Number(f.LivePerGLow(), 1), "per g", "Clopper & Pearson 1934, Biometrika 26:404-413").
		Add("upper limit", interval, working.Number(f.LivePerGHigh(), 1), "per g", "Clopper & Pearson 1934, Biometrika 26:404-413")
}

// testedWhat and countedWhat are what the kind of test found.
func (f LotFigures) testedWhat() string {
	if f.Test.IsA(seed.Tetrazolium) {
		return "viable"
	}
	return "germination"
}

func (f LotFigures) countedWhat() string {
	if f.Test.IsA(seed.Tetrazolium) {
		return "stained viable"
	}
	return "normal seedlings"
}

func (f LotFigures) testSource() string {
	source := "test of " + f.Test.TestedOn.String()
	if f.Test.Reference != "" {
		source += ", " + f.Test.Reference
	}
	return source
}
