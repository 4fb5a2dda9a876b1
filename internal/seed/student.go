package seed

import "math"

// StudentDeviate is the t that a two-sided level, above 0 and below 1, lies within, for
// degrees of freedom of 1 or more: the share outside ±t is I_x(freedom/2, 1/2) at
// x = freedom / (freedom + t²).
// Sources: Student 1908, Biometrika 6:1-25; NIST Digital Library of Mathematical
// Functions, 8.17.
func StudentDeviate(level, freedom float64) float64 {
	x := betaQuantile(1-level, freedom/2, 0.5)
	return math.Sqrt(freedom * (1 - x) / x)
}

// poissonLimits are the means at which a count as high, or as low, as the one found would
// come up with half of what the two-sided level leaves over; the count is 0 or more.
// Source: Garwood 1936, Biometrika 28:437-442.
func poissonLimits(count int, level float64) (low, high float64) {
	tail := (1 - level) / 2
	if count > 0 {
		low = poissonMean(count-1, 1-tail)
	}
	return low, poissonMean(count, tail)
}

// poissonMean is the mean at which a count of no more than most comes up with this chance,
// above 0 and below 1: halved into, since the chance falls as the mean grows.
func poissonMean(most int, chance float64) float64 {
	const halvings = 100
	low, high := 0.0, 2*float64(most)+20
	for range halvings {
		if mean := (low + high) / 2; poissonShare(most, mean) > chance {
			low = mean
		} else {
			high = mean
		}
	}
	return (low + high) / 2
}

// poissonShare is the chance of a count of no more than most at a mean above 0.
func poissonShare(most int, mean float64) float64 {
	sum := 0.0
	for k := range most + 1 {
		factorial, _ := math.Lgamma(float64(k) + 1)
		sum += math.Exp(float64(k)*math.Log(mean) - mean - factorial)
	}
	return sum
}
