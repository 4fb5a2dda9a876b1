package rows

import "math"

// Lay lays rows out. A row line stands at each of
//
//	phase + pitch·⌊i/n⌋ + gap·(i mod n), i = 0, 1, 2, …
//
// metres to the right of the line along the bearing through the boundary's left-most
// point. Sown is what of it lies at least the headland from every outside and the margin
// from every hole and no-go area, exactly: no polygon stands in for the inset. Given a slack,
// a row along a fence that leans or bows towards it by no more than that is whole all the same.
// Stretches of the outside and single no-go areas may ask for clearances of their own, and
// headland passes move the rows in by a pitch each. With no headland a row on the left fence is
// sown and one on the right fence is not. Lengths are on the ellipsoid, off by less than 1 ppm
// in a paddock 20 km across.
func Lay(in Input) (Plan, error) {
	if err := in.check(); err != nil {
		return Plan{}, err
	}
	s, err := sceneOf(in)
	if err != nil {
		return Plan{}, err
	}
	if in.BestPhase {
		phase, err := s.bestPhase(in)
		if err != nil {
			return Plan{}, err
		}
		in.PhaseM = &phase
	}
	plan, err := s.lay(in)
	if err == nil && in.ListRows {
		plan.Listed = plan.list()
	}
	return plan, err
}

// lay lays rows out on checked ground.
func (s scene) lay(in Input) (Plan, error) {
	w := work{scene: s}
	p, err := w.rows(in)
	if err == nil {
		p.drive()
	}
	return p, err
}

func compass(deg float64) float64 {
	if deg = math.Mod(deg, 360); deg < 0 {
		deg += 360
	}
	return deg
}
