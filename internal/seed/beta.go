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
		return 1 - betaWeight(x, a, b)/b*betaFraction(1-x, b, a)
	}
	return betaWeight(x, a, b) / a * betaFraction(x, a, b)
}

// betaWeight is x^a (1-x)^b / B(a, b). The powers and the gamma functions within B are
// huge and nearly cancel, so Stirling's formula is taken apart and only what remains of
// it is added up: DLMF 5.11.1 for each of the three gamma functions.
func betaWeight(x, a, b float64) float64 {
	n := a + b
	off := x*n - a // from the mean; 0 there, and so are both logarithms
	powers := a*logRatio(x*n, a, off) + b*logRatio((1-x)*n, b, -off)
	return math.Sqrt(a*b/(2*math.Pi*n)) * math.Exp(powers+stirlingRest(n)-stirlingRest(a)-stirlingRest(b))
}

// logRatio is ln(v / to), where v is to + off: by off where the two lie close.
func logRatio(v, to, off float64) float64 {
	if math.Abs(off) < to/2 {
		return math.Log1p(off / to)
	}
	return math.Log(v / to)
}

// stirlingRest is ln Γ(z) less (z - 1/2) ln z - z + ln(2π)/2, for z above 0.
func stirlingRest(z float64) float64 {
	if z < 10 {
		gamma, _ := math.Lgamma(z)
		return gamma - (z-0.5)*math.Log(z) + z - math.Log(2*math.Pi)/2
	}
	s := 1 / (z * z)
	return (1.0/12 - s*(1.0/360-s*(1.0/1260-s*(1.0/1680-s/1188)))) / z
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
// Newton's steps from the mean (the slope is betaWeight / (x (1-x))), kept inside a bracket that each step narrows.
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
		next := x - miss*x*(1-x)/betaWeight(x, a, b)
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
