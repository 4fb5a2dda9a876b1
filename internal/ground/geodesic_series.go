package ground

// The series of Karney 2013 in epsilon, to the sixth order; those for longitude and area
// also in the third flattening n. Equation numbers are that paper's.

// seriesA1m1 is A1 - 1 (equation 17) and seriesC1 its companion (18): distance along.
func seriesA1m1(eps float64) float64 {
	return (polynomial(eps*eps, 0, 1./4, 1./64, 1./256) + eps) / (1 - eps)
}

func seriesC1(eps float64) []float64 {
	e2 := eps * eps
	return byPowers(eps,
		polynomial(e2, -1./2, 3./16, -1./32),
		polynomial(e2, -1./16, 1./32, -9./2048),
		polynomial(e2, -1./48, 3./256),
		polynomial(e2, -5./512, 3./512),
		-7./1280,
		-7./2048)
}

// seriesC1Back turns C1 round (equation 21).
func seriesC1Back(eps float64) []float64 {
	e2 := eps * eps
	return byPowers(eps,
		polynomial(e2, 1./2, -9./32, 205./1536),
		polynomial(e2, 5./16, -37./96, 1335./4096),
		polynomial(e2, 29./96, -75./128),
		polynomial(e2, 539./1536, -2391./2560),
		3467./7680,
		38081./61440)
}

// seriesA2m1 is A2 - 1 (equation 42) and seriesC2 its companion (43): reduced length.
func seriesA2m1(eps float64) float64 {
	return polynomial(eps*eps, 0, 1./4, 9./64, 25./256)*(1-eps) - eps
}

func seriesC2(eps float64) []float64 {
	e2 := eps * eps
	return byPowers(eps,
		polynomial(e2, 1./2, 1./16, 1./32),
		polynomial(e2, 3./16, 1./32, 35./2048),
		polynomial(e2, 5./48, 5./256),
		polynomial(e2, 35./512, 7./512),
		63./1280,
		77./2048)
}

// seriesA3 is the polynomial in epsilon for longitude (equation 24).
func seriesA3(n float64) [6]float64 {
	return [6]float64{
		1,
		-polynomial(n, 1./2, -1./2),
		-polynomial(n, 1./4, 1./8, -3./8),
		-polynomial(n, 1./16, 3./16, 1./16),
		-polynomial(n, 3./64, 1./32),
		-3. / 128,
	}
}

// seriesC3 holds, per multiple l, the polynomial in epsilon from power l (equation 25).
func seriesC3(n float64) [5][5]float64 {
	return [5][5]float64{
		{polynomial(n, 1./4, -1./4), polynomial(n, 1./8, 0, -1./8), polynomial(n, 3./64, 3./64, -1./64), polynomial(n, 5./128, 1./64), 3. / 128},
		{polynomial(n, 1./16, -3./32, 1./32), polynomial(n, 3./64, -1./32, -3./64), polynomial(n, 3./128, 1./128), 5. / 256},
		{polynomial(n, 5./192, -3./64, 5./192), polynomial(n, 3./128, -5./192), 7. / 512},
		{polynomial(n, 7./512, -7./256), 7. / 512},
		{21. / 2560},
	}
}

// seriesC4 holds, per multiple l, the polynomial in epsilon from power l (equation 63).
func seriesC4(n float64) [6][6]float64 {
	return [6][6]float64{
		{
			polynomial(n, 2./3, -4./15, 8./105, 4./315, 16./3465, 20./9009),
			-polynomial(n, 1./5, -16./35, 32./105, -16./385, -64./15015),
			-polynomial(n, 2./105, 32./315, -1088./3465, 1184./5005),
			polynomial(n, 11./315, -368./3465, -32./6435),
			polynomial(n, 4./1155, 1088./45045),
			97. / 15015,
		},
		{
			polynomial(n, 1./45, -16./315, 32./945, -16./3465, -64./135135),
			-polynomial(n, 2./105, -64./945, 128./1485, -1984./45045),
			-polynomial(n, 1./105, -16./2079, -5792./135135),
			polynomial(n, 4./1155, -2944./135135),
			1. / 9009,
		},
		{
			polynomial(n, 4./525, -32./1575, 64./3465, -32./5005),
			-polynomial(n, 8./1575, -128./5775, 256./6825),
			-polynomial(n, 8./1925, -1856./225225),
			8. / 10725,
		},
		{
			polynomial(n, 8./2205, -256./24255, 512./45045),
			-polynomial(n, 16./8085, -1024./105105),
			-136. / 63063,
		},
		{
			polynomial(n, 64./31185, -512./81081),
			-128. / 135135,
		},
		{128. / 99099},
	}
}

func (g *solver) a3(eps float64) float64 { return polynomial(eps, g.third[:]...) }

func (g *solver) c3(eps float64) []float64 {
	out := make([]float64, len(g.longitude))
	for l := range out {
		out[l] = polynomial(eps, g.longitude[l][:]...)
	}
	return byPowers(eps, out...)
}

func (g *solver) c4(eps float64) []float64 {
	out := make([]float64, len(g.area))
	power := 1.0
	for l := range out {
		out[l] = power * polynomial(eps, g.area[l][:]...)
		power *= eps
	}
	return out
}

// byPowers multiplies the first number by x, the second by x², and so on.
func byPowers(x float64, c ...float64) []float64 {
	power := 1.0
	for i := range c {
		power *= x
		c[i] *= power
	}
	return c
}

// sineSum is Σ c[l-1] sin 2lσ from l = 1, by Clenshaw's recurrence.
func (d direction) sineSum(c []float64) float64 {
	twice := 2 * (d.cos - d.sin) * (d.cos + d.sin)
	now, before := 0.0, 0.0
	for l := len(c) - 1; l >= 0; l-- {
		now, before = twice*now-before+c[l], now
	}
	return 2 * d.sin * d.cos * now
}

// cosineSum is Σ c[l] cos (2l+1)σ from l = 0, by Clenshaw's recurrence.
func (d direction) cosineSum(c []float64) float64 {
	twice := 2 * (d.cos - d.sin) * (d.cos + d.sin)
	now, before := 0.0, 0.0
	for l := len(c) - 1; l >= 0; l-- {
		now, before = twice*now-before+c[l], now
	}
	return d.cos * (now - before)
}
