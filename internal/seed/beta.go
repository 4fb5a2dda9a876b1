package seed

import "math"

// incompleteBeta is I_x(a, b), the regularised incomplete beta function, for a and b
// above 0 and x in 0..1. The continued fraction converges fast below the mean of the
// distribution; above it the mirror image is taken.
// Source: NIST Digital Library of Mathematical Functions, 8.17.22 and 8.17.4.
func incompleteBeta(x, a, b float64) float64 {
	switch {
	case x <= 0:
		return 0
	case x >= 1:
		return 1
	case x > (a+1)/(a+b+2):
		return 1 - betaDensity(1-x, b, a)*(1-x)*x/b*betaFraction(1-x, b, a)
	}
	return betaDensity(x, a, b) * x * (1 - x) / a * betaFraction(x, a, b)
}

// betaDensity is x^(a-1) (1-x)^(b-1) / B(a, b), the slope of incompleteBeta at x.
func betaDensity(x, a, b float64) float64 {
	whole, _ := math.Lgamma(a + b)
	first, _ := math.Lgamma(a)
	second, _ := math.Lgamma(b)
	return math.Exp(whole - first - second + (a-1)*math.Log(x) + (b-1)*math.Log1p(-x))
}

// betaFraction is the continued fraction of DLMF 8.17.22, evaluated front to back by
// Lentz's method. It needs about sqrt(a+b) terms.
func betaFraction(x, a, b float64) float64 {
	const tiny, enough, most = 1e-300, 1e-16, 100_000
	c, d := 1.0, away(1-(a+b)*x/(a+1), tiny)
	d = 1 / d
	value := d
	for m := 1.0; m < most; m++ {
		even := m * (b - m) * x / ((a + 2*m - 1) * (a + 2*m))
		d, c = 1/away(1+even*d, tiny), away(1+even/c, tiny)
		value *= d * c
		odd := -(a + m) * (a + b + m) * x / ((a + 2*m) * (a + 2*m + 1))
		d, c = 1/away(1+odd*d, tiny), away(1+odd/c, tiny)
		value *= d * c
		if math.Abs(d*c-1) <= enough {
			break
		}
	}
	return value
}

// away keeps a divisor off zero.
func away(v, tiny float64) float64 {
	if math.Abs(v) < tiny {
		return tiny
	}
	return v
}

// betaQuantile is the x at which incompleteBeta(x, a, b) is p, for p above 0 and below 1:
// Newton's steps from the mean, kept inside a bracket that each step narrows.
func betaQuantile(p, a, b float64) float64 {
	const enough, most = 1e-14, 400
	low, high, x := 0.0, 1.0, a/(a+b)
	for range most {
		miss := incompleteBeta(x, a, b) - p
		if miss > 0 {
			high = x
		} else {
			low = x
		}
		next := x - miss/betaDensity(x, a, b)
		if !(next > low && next < high) {
			next = low + (high-low)/2
		}
		if math.Abs(next-x) <= enough*next {
			return next
		}
		x = next
	}
	return x
}
