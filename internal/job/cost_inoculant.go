package job

import (
	"fmt"
	"slices"
	"strings"

	"rowtally/internal/money"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// addTreatment adds what treating so many kg of a lot cost.
func (r *reckoning) addTreatment(lot seed.Lot, kg money.Factor, source string) {
	if lot.TreatmentPerKg.Sign() <= 0 {
		return
	}
	r.add(CostLine{Kind: TreatmentCost, ID: lot.ID, What: lot.Code + ", " + lot.Treatment, Quantity: kg, Unit: "kg", Price: lot.TreatmentPerKg, Source: source + "; what treating a kg cost"})
}

// addInoculants adds the inoculant of the understorey's legumes, of so many kg of each lot as
// kgOf tells: grams by the label of each species, in packs of the shed's price. What two
// species take of one group is taken together.
func (r *reckoning) addInoculants(f Facts, kgOf func(lotID int64) float64, ofWhat string) {
	groups, grams := f.inoculantGrams(kgOf)
	for _, group := range groups {
		in, priced := seed.InoculantFor(f.Costs.Inoculants, group)
		if !priced {
			r.leaveOut("The inoculant of group %s has no price yet: enter its pack under Inoculants in the shed.", group)
			continue
		}
		left := "what is left of an opened pack is not kept"
		if in.Keeps {
			left = "what is left keeps"
		}
		r.add(CostLine{Kind: TreatmentCost, ID: in.ID, What: in.Product + ", inoculant of group " + in.ForGroup, Quantity: money.FactorOf(in.Packs(grams[group]), 3), Unit: "packs", Price: in.PackPrice,
			Source: fmt.Sprintf("%s: %s g by the label, packs of %s g; %s", ofWhat, unit.Grouped(grams[group], 0), unit.Plain(in.PackG), left)})
	}
}

// inoculantGrams is the inoculant of each group that is wanted at all, in the order of the
// species.
func (f Facts) inoculantGrams(kgOf func(lotID int64) float64) (groups []string, grams map[string]float64) {
	grams = map[string]float64{}
	if f.Understorey == nil {
		return nil, grams
	}
	for _, s := range f.Understorey.Species {
		group := strings.ToUpper(strings.TrimSpace(s.InoculantGroup))
		for _, id := range s.LotIDs {
			g := kgOf(id) * s.InoculantGPerKg
			if group == "" || g <= 0 {
				continue
			}
			if !slices.Contains(groups, group) {
				groups = append(groups, group)
			}
			grams[group] += g
		}
	}
	return groups, grams
}
