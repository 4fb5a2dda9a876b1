package ground

// krugerAlpha is the series from the rectifying sphere to the plane.
// Source: Karney 2011, equation 35.
func krugerAlpha(n float64) [6]float64 {
	return [6]float64{
		n * polynomial(n, 1./2, -2./3, 5./16, 41./180, -127./288, 7891./37800),
		n * n * polynomial(n, 13./48, -3./5, 557./1440, 281./630, -1983433./1935360),
		n * n * n * polynomial(n, 61./240, -103./140, 15061./26880, 167603./181440),
		n * n * n * n * polynomial(n, 49561./161280, -179./168, 6601661./7257600),
		n * n * n * n * n * polynomial(n, 34729./80640, -3418889./1995840),
		n * n * n * n * n * n * 212378941. / 319334400,
	}
}

// krugerBeta is the series from the plane to the rectifying sphere.
// Source: Karney 2011, equation 36.
func krugerBeta(n float64) [6]float64 {
	return [6]float64{
		n * polynomial(n, 1./2, -2./3, 37./96, -1./360, -81./512, 96199./604800),
		n * n * polynomial(n, 1./48, 1./15, -437./1440, 46./105, -1118711./3870720),
		n * n * n * polynomial(n, 17./480, -37./840, -209./4480, 5569./90720),
		n * n * n * n * polynomial(n, 4397./161280, -11./504, -830251./7257600),
		n * n * n * n * n * polynomial(n, 4583./161280, -108847./3991680),
		n * n * n * n * n * n * 20648693. / 638668800,
	}
}

// polynomial is c[0] + c[1] x + c[2] x² + … by Horner's rule.
func polynomial(x float64, c ...float64) float64 {
	sum := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		sum = sum*x + c[i]
	}
	return sum
}
