package seed_test

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/fault"
	"rowtally/internal/published"
	"rowtally/internal/seed"
)

func intervalOf(t interface {
	Helper()
	Fatal(...any)
}, successes, trials int, level float64, method seed.IntervalMethod) seed.Interval {
	t.Helper()
	i, err := seed.IntervalOf(seed.Counted{Successes: successes, Trials: trials, Level: &level, Method: method})
	if err != nil {
		t.Fatal(err)
	}
	return i
}

func TestIntervalsArePublishedOnes(t *testing.T) {
	methods := map[string]seed.IntervalMethod{"exact": seed.ClopperPearson, "wilson": seed.Wilson}
	for _, r := range published.Rows(t, "binomial_intervals.csv") {
		printed := 5e-5 // Newcombe's table has four decimals
		if len(r.Text("published_low")) > 6 || len(r.Text("published_high")) > 6 {
			printed = 5e-8
		}
		if len(r.Text("published_low")) > 12 {
			printed = 1e-13
		}
		got := intervalOf(t, int(r.Number("x")), int(r.Number("n")), r.Number("conf_level"), methods[r.Text("method")])
		if !(math.Abs(got.LowFraction-r.Number("published_low")) <= printed && math.Abs(got.HighFraction-r.Number("published_high")) <= printed) {
			t.Errorf("%s: %v to %v, published %s to %s", r.Name, got.LowFraction, got.HighFraction, r.Text("published_low"), r.Text("published_high"))
		}
	}
}

// upperTail sums the binomial law exactly enough, in 200-bit numbers: the chance of so
// many successes or more.
func upperTail(successes, trials int, share float64) float64 {
	p := new(big.Float).SetPrec(200).SetFloat64(share)
	q := new(big.Float).SetPrec(200).Sub(big.NewFloat(1), p)
	sum := new(big.Float).SetPrec(200)
	for k := successes; k <= trials; k++ {
		term := new(big.Float).SetPrec(200).SetInt(new(big.Int).Binomial(int64(trials), int64(k)))
		for range k {
			term.Mul(term, p)
		}
		for range trials - k {
			term.Mul(term, q)
		}
		sum.Add(sum, term)
	}
	v, _ := sum.Float64()
	return v
}

// The limits of Clopper and Pearson are defined by tails of the binomial law: summing
// those tails must give half of what the level leaves over.
func TestClopperPearsonLimitsLeaveHalfTheRestInEachTail(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		trials := rapid.IntRange(1, 120).Draw(t, "trials")
		successes := rapid.IntRange(0, trials).Draw(t, "successes")
		level := 1 - math.Pow(10, -rapid.Float64Range(0.01, 10).Draw(t, "decades left over"))
		i := intervalOf(t, successes, trials, level, seed.ClopperPearson)
		half := (1 - level) / 2
		if successes > 0 {
			if tail := upperTail(successes, trials, i.LowFraction); !(math.Abs(tail/half-1) <= 1e-10) {
				t.Fatalf("tail above the low limit is %v, not %v", tail, half)
			}
		} else if i.LowFraction != 0 {
			t.Fatalf("low limit of none is %v", i.LowFraction)
		}
		if successes < trials {
			if tail := 1 - upperTail(successes+1, trials, i.HighFraction); !(math.Abs(tail-half) <= 1e-12) {
				t.Fatalf("tail below the high limit is %v, not %v", tail, half)
			}
		} else if i.HighFraction != 1 {
			t.Fatalf("high limit of all is %v", i.HighFraction)
		}
	})
}

func TestIntervalsHoldTheShareAndMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		trials := rapid.IntRange(1, 1_000_000).Draw(t, "trials")
		successes := rapid.IntRange(0, trials).Draw(t, "successes")
		level := rapid.Float64Range(0.5, 0.999).Draw(t, "level")
		method := rapid.SampledFrom([]seed.IntervalMethod{seed.ClopperPearson, seed.Wilson}).Draw(t, "method")
		i := intervalOf(t, successes, trials, level, method)
		mirrored := intervalOf(t, trials-successes, trials, level, method)
		share := float64(successes) / float64(trials)
		if !(0 <= i.LowFraction && i.LowFraction <= share && share <= i.HighFraction && i.HighFraction <= 1) {
			t.Fatalf("%v to %v does not hold %v", i.LowFraction, i.HighFraction, share)
		}
		if !(math.Abs(i.LowFraction+mirrored.HighFraction-1) <= 1e-12) {
			t.Fatalf("the interval of the rest does not mirror: %v and %v", i.LowFraction, mirrored.HighFraction)
		}
	})
}

// A germination of 34 % is worth ± 4.6 points on 400 seeds and ± 9.3 on 100; of 9 % on
// 400 seeds, ± 2.8 (normal approximation, our own arithmetic).
func TestTestPrecisionIsThatOfTheNormalApproximation(t *testing.T) {
	for _, c := range []struct {
		normal, seeds int
		points        float64
	}{{136, 400, 4.6}, {34, 100, 9.3}, {36, 400, 2.8}} {
		i := intervalOf(t, c.normal, c.seeds, 0.95, seed.Wilson)
		if half := 50 * (i.HighFraction - i.LowFraction); !(math.Abs(half-c.points) <= 0.2) {
			t.Errorf("%d of %d: ± %.2f points, not ± %.1f", c.normal, c.seeds, half, c.points)
		}
	}
}

func TestIntervalRefusals(t *testing.T) {
	level := func(v float64) *float64 { return &v }
	for field, c := range map[string]seed.Counted{
		"trials":    {Successes: 0, Trials: 0, Method: seed.Wilson},
		"successes": {Successes: 21, Trials: 20, Method: seed.Wilson},
		"level":     {Successes: 1, Trials: 20, Level: level(math.NaN()), Method: seed.Wilson},
		"method":    {Successes: 1, Trials: 20, Method: "wald"},
	} {
		_, err := seed.IntervalOf(c)
		if _, refused := fault.Fields(err)[field]; !refused {
			t.Errorf("%s: %v", field, err)
		}
	}
	if _, err := seed.IntervalOf(seed.Counted{Successes: -1, Trials: 3e9, Method: seed.Wilson}); fault.Fields(err)["trials"] == "" {
		t.Errorf("three thousand million trials: %v", err)
	}
}
