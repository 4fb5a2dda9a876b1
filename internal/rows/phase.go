package rows

import "math"

// The phases that are tried for the best: a tenth of a metre apart, wider apart where that
// would be more than so many to a pitch.
const (
	phaseStepM = 0.1
	mostPhases = 200
)

// bestPhase is the phase that gives the most row metres, of those that begin at the narrowest
// headland and stand a step apart over one pitch of the belts. Of phases within a millimetre
// of the best the smallest is taken.
func (s scene) bestPhase(in Input) (float64, error) {
	least, pitch := s.leastHeadlandM()+in.passRoomM(), in.pitchM()
	step := in.phaseStepM()
	best, most := least, math.Inf(-1)
	for k := 0; float64(k)*step < pitch-1e-9; k++ {
		phase := math.Round((least+float64(k)*step)*1e6) / 1e6
		in.PhaseM = &phase
		plan, err := s.lay(in)
		if err != nil {
			return 0, err
		}
		if plan.RowM > most+0.001 {
			best, most = phase, plan.RowM
		}
	}
	return best, nil
}

// phaseStepM is how far apart the phases are that are tried.
func (in Input) phaseStepM() float64 {
	return phaseStepM * math.Max(1, math.Ceil(in.pitchM()/mostPhases/phaseStepM))
}
