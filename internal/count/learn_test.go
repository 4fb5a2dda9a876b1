package count

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"rowtally/internal/published"
)

func near(t *testing.T, what string, got, want, off float64) {
	t.Helper()
	if math.Abs(got-want) > off {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

// The moments and the pooled mean are those published for thirteen trials of a vaccine.
func TestMomentsAreThePublishedOnes(t *testing.T) {
	var values []value
	for _, r := range published.Rows(t, "pooled_trials.csv") {
		a, b, c, d := r.Number("positive"), r.Number("negative"), r.Number("control_positive"), r.Number("control_negative")
		values = append(values, value{math.Log(a / (a + b) * (c + d) / c), 1/a - 1/(a+b) + 1/c - 1/(c+d)})
	}
	want := published.Rows(t, "pooled_trials_answer.csv")[0]
	q, _ := scatter(values)
	variance, free := beyond([][]value{values})
	mean := pooledMean(values, variance)
	near(t, "Q", q, want.Number("q"), 5e-5)
	near(t, "degrees of freedom", free, want.Number("free"), 0)
	near(t, "variance between", variance, want.Number("variance"), 5e-5)
	near(t, "mean", mean.at, want.Number("mean"), 5e-5)
	near(t, "its error", math.Sqrt(mean.variance), want.Number("standard_error"), 5e-5)
}

func oldMan(live float64) Sown {
	return Sown{Species: "Atriplex nummularia", Form: "fruit, bracts on", LivePerPlacement: live}
}

// By hand: 61.05 % occupied is λ = -ln(0.38947) = 0.94296 plants; over 30 live seeds 3.1432 in 100.
func TestAShareOccupiedTeachesEmergence(t *testing.T) {
	e, err := Judge(evenly(7, 5, 6, 8, 4, 6, 5, 7, 6), 0.1) // 54 of 90, factor 1.9
	if err != nil {
		t.Fatal(err)
	}
	one := Lessons(e, []Sown{oldMan(30)}, nil)
	near(t, "emergence", one[0].Fraction, -math.Log(0.4)/30, 1e-12)
	near(t, "its variance", one[0].Variance, 0.6/(0.4*(90/1.9)*math.Pow(math.Log(0.4), 2)), 1e-12)
	wavy := Sown{Species: "Atriplex undulata", LivePerPlacement: 20}
	two := Lessons(e, []Sown{oldMan(30), wavy}, nil)
	if len(two) != 2 || !two[0].Shared || two[0].Fraction != two[1].Fraction {
		t.Errorf("%+v", two)
	}
	near(t, "emergence of both", two[0].Fraction, -math.Log(0.4)/50, 1e-12)
	apart := Lessons(e, []Sown{oldMan(30), wavy}, []Seen{{"Atriplex nummularia", 18}, {"Atriplex undulata", 45}})
	if apart[0].Shared || apart[1].Shared {
		t.Errorf("%+v", apart)
	}
	near(t, "old man", apart[0].Fraction, -math.Log(0.8)/30, 1e-12)
	near(t, "wavy leaf", apart[1].Fraction, -math.Log(0.5)/20, 1e-12)
	if none, _ := Judge(evenly(0, 0, 0), 0.1); !(Lessons(none, []Sown{oldMan(30)}, nil)[0].Fraction > 0) || Lessons(none, []Sown{oldMan(0)}, nil) != nil {
		t.Error("nothing occupied teaches badly")
	}
}

func lesson(job string, form string, fraction, variance float64) Lesson {
	s := oldMan(30)
	s.Form = form
	return Lesson{Job: job, Kind: First, On: "2025-10-21", Sown: s, Fraction: fraction, Variance: variance}
}

// By hand, one count alone: the mean is its own, its error and a season's by our two guesses
// and Student's t with four degrees of freedom, 2.776.
func TestOneCountAloneSpeaksForItself(t *testing.T) {
	l, ok := Learn([]Lesson{lesson("J-01", "fruit", 0.05, 0.01)}, Target{Kind: First, Sown: lesson("", "fruit", 0, 0).Sown})
	guess := math.Pow(math.Ln2/2.7764451052, 2)
	if !ok {
		t.Fatal("nothing is learned")
	}
	near(t, "mean", l.Fraction, 0.05, 1e-12)
	v := 0.01 + guess // of the count about its group's mean
	near(t, "poor season", l.PoorFraction, 0.05*math.Exp(-2.776445*math.Sqrt(v+guess)), 1e-6)
	near(t, "lower limit", l.LowFraction, 0.05*math.Exp(-2.776445*math.Sqrt(v)), 1e-6)
	if says := l.From(); says != "from 1 first count of Atriplex nummularia (J-01 21 Oct 2025), all of fruit, ground not read" {
		t.Error(says)
	}
}

// By hand, two groups of one count each, alike in error: both are drawn half way and a bit to
// the mean of both; seed of a third kind gets the mean.
func TestFewCountsAreDrawnToThePool(t *testing.T) {
	all := []Lesson{lesson("J-01", "fruit", 0.04, 0.01), lesson("J-02", "naked", 0.08, 0.01)}
	middle := math.Sqrt(0.04 * 0.08)
	guess := math.Pow(math.Ln2/2.7764451052, 2)
	v := 0.01 + guess
	half := math.Log(2) / 2
	between := (4*guess + max(0, 2*half*half-v)) / 5 // moments: (Q - 1) / C with equal weights
	w := between / (between + v)
	fruit, _ := Learn(all, Target{Kind: First, Sown: all[0].Sown})
	near(t, "fruit", fruit.Fraction, middle*math.Exp(-w*half), 1e-9)
	near(t, "weight", fruit.OwnWeight, w, 1e-9)
	third, _ := Learn(all, Target{Kind: First, Sown: lesson("", "washed", 0, 0).Sown})
	near(t, "third", third.Fraction, middle, 1e-12)
	if third.HighFraction <= fruit.HighFraction/fruit.Fraction*third.Fraction || !strings.Contains(third.From(), "none of washed") {
		t.Errorf("%+v: %s", third, third.From())
	}
	other := Sown{Species: "Atriplex amnicola"}
	river, ok := Learn(all, Target{Kind: First, Sown: other})
	if !ok || !river.OtherSpecies || !strings.Contains(river.From(), "was never counted") {
		t.Errorf("%v: %s", ok, river.From())
	}
	if _, ok := Learn(all, Target{Kind: Autumn, Sown: other}); ok {
		t.Error("a first count speaks for an autumn count")
	}
}

// Generated truth: three groups of so many counts each. The group's own mean and the next
// season's share lie within their limits about 95 times in 100, and 90 times at the least
// where seasons scatter by half as much again as our guess.
func TestWhatIsLearnedHoldsTheTruth(t *testing.T) {
	dice := rand.New(rand.NewPCG(5, 29))
	for _, c := range []struct {
		counts        int
		group, season float64 // scatter of the logarithms
		least         float64
	}{{1, 0.25, 0.25, 0.935}, {3, 0.25, 0.25, 0.935}, {6, 0.2, 0.37, 0.9}, {3, 0.1, 0.1, 0.935}} {
		usual, next, tries := 0, 0, 1200
		for range tries {
			var all []Lesson
			var truth float64
			for g := range 3 {
				mean := math.Log(0.04) + c.group*dice.NormFloat64()
				if g == 0 {
					truth = mean
				}
				for range c.counts {
					share := -math.Expm1(-30 * math.Exp(mean+c.season*dice.NormFloat64()))
					e, err := Judge(stretchesOf(dice, 19, share, 0.1), 0.1)
					if err != nil {
						t.Fatal(err)
					}
					s := oldMan(30)
					s.Form = strconv.Itoa(g)
					for _, one := range Lessons(e, []Sown{s}, nil) {
						one.Kind = First
						all = append(all, one)
					}
				}
			}
			s := oldMan(30)
			s.Form = "0"
			l, _ := Learn(all, Target{Kind: First, Sown: s})
			if future := math.Exp(truth + c.season*dice.NormFloat64()); future >= l.PoorFraction && future <= l.GoodFraction {
				next++
			}
			if at := math.Exp(truth); at >= l.LowFraction && at <= l.HighFraction {
				usual++
			}
		}
		t.Logf("%+v: usual %.3f, next %.3f", c, float64(usual)/float64(tries), float64(next)/float64(tries))
		for what, held := range map[string]int{"the mean": usual, "the next season": next} {
			if covered := float64(held) / float64(tries); covered < c.least {
				t.Errorf("%+v: %s is held in %.3f", c, what, covered)
			}
		}
	}
}
