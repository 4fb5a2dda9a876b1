package ground

import (
	"math"
	"testing"
)

// Going along the sphere and back by the two series must leave only what the seventh
// power of epsilon leaves out: twice the epsilon, 128 times the remainder. A wrong term
// of the sixth power or below would leave less of a difference.
func TestTheDistanceSeriesTurnedRound(t *testing.T) {
	remainder := func(eps float64) float64 {
		worst := 0.0
		for deg := 0.5; deg < 90; deg++ {
			sigma := direction{0, 1}.plus(deg * degree)
			tau := sigma.plus(sigma.sineSum(seriesC1(eps)))
			back := tau.plus(tau.sineSum(seriesC1Back(eps)))
			worst = max(worst, math.Abs(back.less(sigma).rad()))
		}
		return worst
	}
	if growth := remainder(0.02) / remainder(0.01); growth < 125 || growth > 131 {
		t.Errorf("the remainder grows by %.2f, not by 128", growth)
	}
}
