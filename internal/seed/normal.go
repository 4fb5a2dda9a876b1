package seed

import "math"

// normalShare is the share of a standard normal distribution below the deviate z.
func normalShare(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// normalDeviate is the normal equivalent deviate of a share above 0 and below 1: the z
// below which that share lies (the classic probit is z + 5).
func normalDeviate(share float64) float64 {
	if share > 0.5 {
		return -normalDeviate(1 - share)
	}
	z := -math.Sqrt2 * math.Erfinv(1-2*share)
	if share < 1e-9 {
		z = -math.Sqrt(-2 * math.Log(share)) // 1-2*share has lost the digits of share
	}
	for range 8 { // Newton's steps on the logarithm of the share
		density := math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
		below := normalShare(z)
		z -= below / density * math.Log(below/share)
	}
	return z
}
