package mix

import "math"

// ShareAtHand is the largest share of the mix, 0..1, for which every lot holds enough: the
// whole scale steps that the shortest lot still gives, over what the mix takes of it. A lot
// without AvailableKg never is the shortest.
func (m Mix) ShareAtHand() float64 {
	share := 1.0
	for i, s := range m.Species {
		for k, l := range s.Lots {
			available := m.recipe.Species[i].Lots[k].AvailableKg
			if available == nil || l.WeighedKg <= *available+1e-9 {
				continue
			}
			step := m.recipe.scaleStepG()
			whole := math.Floor(*available*1000/step+1e-9) * step / 1000
			share = min(share, whole/l.Kg)
		}
	}
	return share
}
