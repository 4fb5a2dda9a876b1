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
	phases := make([]float64, int(math.Ceil((pitch-1e-9)/step)))
	rowM := make([]float64, len(phases))
	err := sideBySide(len(phases), func() func(k int) error {
		w, in := work{scene: s}, in
		return func(k int) error {
			phases[k] = math.Round((least+float64(k)*step)*1e6) / 1e6
			in.PhaseM = &phases[k]
			plan, err := w.rows(in)
			rowM[k] = plan.RowM
			return err
		}
	})
	best, most := least, math.Inf(-1)
	for k, phase := range phases {
		if rowM[k] > most+0.001 {
			best, most = phase, rowM[k]
		}
	}
	return best, err
}

// phaseStepM is how far apart the phases are that are tried.
func (in Input) phaseStepM() float64 {
	return phaseStepM * math.Max(1, math.Ceil(in.pitchM()/mostPhases/phaseStepM))
}
