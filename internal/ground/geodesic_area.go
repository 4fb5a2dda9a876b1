package ground

import "math"

// areaUnder is the area between the line and the equator: Karney 2013, section 6.
func (p problem) areaUnder(f found) float64 {
	sinA0, cosA0 := f.from.sin*p.from.cos, math.Hypot(f.from.cos, f.from.sin*p.from.sin)
	area := 0.0
	if sinA0 != 0 && cosA0 != 0 {
		sigma1 := direction{p.from.sin, f.from.cos * p.from.cos}.unit()
		sigma2 := direction{p.to.sin, f.to.cos * p.to.cos}.unit()
		c4 := p.c4(p.epsilon(cosA0))
		area = square(p.EquatorialM) * cosA0 * sinA0 * p.eccentricity2() * (sigma2.cosineSum(c4) - sigma1.cosineSum(c4))
	}
	return area + p.authalic2M2*p.excess(f)
}

// excess is the difference of the azimuths, equation 59; where the longitudes differ by
// less than 135 degrees by equation 64, which stays exact for short lines.
func (p problem) excess(f found) float64 {
	if f.isKnown && f.sphereLon.cos > -0.7071 && p.to.sin-p.from.sin < 1.75 {
		b1, b2 := 1+p.from.cos, 1+p.to.cos
		return 2 * math.Atan2(
			f.sphereLon.sin*(p.from.sin*b2+p.to.sin*b1),
			(1+f.sphereLon.cos)*(p.from.sin*p.to.sin+b1*b2))
	}
	turn := f.to.less(f.from)
	if turn.sin == 0 && turn.cos < 0 {
		turn = direction{tiny * f.from.cos, -1}
	}
	return turn.rad()
}
