package count

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/published"
)

// evenly is so many stretches of ten with these occupied.
func evenly(occupied ...int) (stretches []Stretch) {
	for i, n := range occupied {
		stretches = append(stretches, Stretch{i + 1, 10, n})
	}
	return stretches
}

func TestTheClusterVarianceIsThePrintedOne(t *testing.T) {
	for _, r := range published.Rows(t, "cluster_shares.csv") {
		var stretches []Stretch
		occupied := strings.Fields(r.Text("occupied"))
		for i, size := range strings.Fields(r.Text("sizes")) {
			s := Stretch{Place: i + 1}
			s.Placements, _ = strconv.Atoi(size)
			s.Occupied, _ = strconv.Atoi(occupied[i])
			stretches = append(stretches, s)
		}
		e, err := Judge(stretches, GuessedRho)
		if err != nil || !e.Own {
			t.Fatalf("%+v, %v", e, err)
		}
		alone := e.ShareFraction * (1 - e.ShareFraction) / float64(e.Placements)
		for column, got := range map[string]float64{"share": e.ShareFraction, "variance": e.error() * e.error(), "variance_alone": alone} {
			digits := len(r.Text(column)) - strings.IndexByte(r.Text(column), '.') - 1
			if math.Abs(got-r.Number(column)) > 1.01*math.Pow(10, -float64(digits)) {
				t.Errorf("%s: %s is %v, printed %s", r.Name, column, got, r.Text(column))
			}
		}
	}
}

// 116 of 190 in 19 stretches of ten, by hand: with a factor of 1.9 the error is 9.6 points,
// and with two rows of placements every 3 m to 14 m, 476.2 a hectare, 291 ± 46 are occupied.
func TestAShareWithItsErrorByHand(t *testing.T) {
	e := Estimate{Stretches: 19, Placements: 190, Occupied: 116, ShareFraction: 116.0 / 190, Factor: FactorOf(10, 0.1), deviate: deviate95}
	e.limit()
	if e.Says() != "61.1 % ± 9.6" {
		t.Errorf("it says %q", e.Says())
	}
	if a := e.PerHa(10_000 * 2 / 14.0 / 3); math.Round(a.Plants) != 291 || math.Round(a.High-a.Plants) != 46 || math.Round(a.Plants-a.Low) != 46 {
		t.Errorf("%+v", a)
	}
}

func TestFewStretchesTakeThePlansRho(t *testing.T) {
	e, err := Judge(evenly(7, 5, 6, 8, 4, 6, 5, 7, 6), 0.1)
	if err != nil || e.Own || e.Factor != 1.9 || !strings.Contains(e.FactorSays(), "the plan's 0.1 is taken") {
		t.Errorf("%+v, %v: %s", e, err, e.FactorSays())
	}
	if e, _ = Judge(evenly(7, 5, 6, 8, 4, 6, 5, 7, 6, 6), 0.1); !e.Own || e.Factor != 1 {
		t.Errorf("ten even stretches: %+v", e)
	}
}

// Nothing occupied, and everything, still leave doubt; so does a single placement.
func TestNothingIsEverCertain(t *testing.T) {
	for _, stretches := range [][]Stretch{evenly(0, 0, 0, 0), evenly(10, 10, 10, 10), evenly(0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1), {{1, 1, 1}}} {
		e, err := Judge(stretches, 0.1)
		if err != nil || e.Even || e.HalfFraction() < 0.02 || e.LowFraction > e.ShareFraction || e.HighFraction < e.ShareFraction || strings.Contains(e.Says(), "±") {
			t.Errorf("%v: %s %+v, %v", stretches, e.Says(), e, err)
		}
	}
	for _, wrong := range [][]Stretch{nil, {{1, 0, 0}}, {{1, 10, 11}}, {{1, 10, -1}}} {
		if _, err := Judge(wrong, 0.1); fault.KindOf(err) != fault.Refused {
			t.Errorf("%v: %v", wrong, err)
		}
	}
}

// stretchesOf counts placements whose neighbours fail together: the share of a stretch is
// drawn from the beta law with correlation rho, each placement then by it.
func stretchesOf(dice *rand.Rand, k int, share, rho float64) (stretches []Stretch) {
	a, b := share*(1-rho)/rho, (1-share)*(1-rho)/rho
	for i := range k {
		x, y := gammaOf(dice, a), gammaOf(dice, b)
		s := Stretch{Place: i + 1, Placements: 10}
		for range s.Placements {
			if dice.Float64() < x/(x+y) {
				s.Occupied++
			}
		}
		stretches = append(stretches, s)
	}
	return stretches
}

// gammaOf draws from the gamma law (Marsaglia & Tsang 2000, ACM TOMS 26:363-372).
func gammaOf(dice *rand.Rand, shape float64) float64 {
	if shape < 1 {
		return gammaOf(dice, shape+1) * math.Pow(dice.Float64(), 1/shape)
	}
	d := shape - 1.0/3
	for {
		x := dice.NormFloat64()
		v := math.Pow(1+x/math.Sqrt(9*d), 3)
		if v > 0 && math.Log(dice.Float64()) < x*x/2+d-d*v+d*math.Log(v) {
			return d * v
		}
	}
}

// Of counts of a known truth about 95 in 100 intervals hold it.
func TestIntervalsHoldTheTruth(t *testing.T) {
	dice := rand.New(rand.NewPCG(11, 17))
	for _, c := range []struct {
		k          int
		share, rho float64
	}{{19, 0.6, 0.1}, {19, 0.3, 0.25}, {12, 0.5, 0.1}, {40, 0.9, 0.1}, {6, 0.6, 0.1}, {19, 0.05, 0.1}} {
		held, tries := 0, 3000
		for range tries {
			e, err := Judge(stretchesOf(dice, c.k, c.share, c.rho), 0.1)
			if err != nil {
				t.Fatal(err)
			}
			if e.LowFraction <= c.share && c.share <= e.HighFraction {
				held++
			}
		}
		t.Logf("%d stretches, share %v, rho %v: %.3f", c.k, c.share, c.rho, float64(held)/float64(tries))
		if covered := float64(held) / float64(tries); covered < 0.925 || covered > 0.995 {
			t.Errorf("%d stretches of share %v, rho %v: %.3f hold it", c.k, c.share, c.rho, covered)
		}
	}
}
