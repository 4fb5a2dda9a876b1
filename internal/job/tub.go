package job

import (
	"math"

	"rowtally/internal/mix"
)

// TubOf is the sheet's first tub as it goes into the books when it is mixed. A lot of which
// less than half a gram belongs in it is left out: nothing of it is weighed.
func TubOf(f Facts, sheet MixingSheet) mix.Tub {
	next := sheet.Tubs[0]
	tub := mix.Tub{
		JobID: f.Job.ID, Number: next.Number, ProductID: f.Recipe.ProductID, RowM: next.RowM,
		MixML: millilitres(next.MixL), MediumML: millilitres(next.MediumL),
	}
	for i, lot := range sheet.Lots {
		if grams := int64(math.Round(next.Grams[i])); grams > 0 {
			tub.Ingredient = append(tub.Ingredient, mix.Ingredient{LotID: lot.LotID, Grams: grams})
		}
	}
	return tub
}

func millilitres(l float64) int64 { return int64(math.Round(l * 1000)) }

// Minutes are meter hours, as a dial shows them, in whole minutes.
func Minutes(hours float64) int64 { return int64(math.Round(hours * 60)) }

// JudgeCatch works a catch test out before it is kept.
func JudgeCatch(c mix.Catch, r Recipe) (mix.Metering, error) {
	return mix.Measure(CatchInput(c, r, r.livePerPlacement()))
}

// livePerPlacement is the live seed that a placement is meant to hold, all species.
func (r Recipe) livePerPlacement() float64 {
	live := 0.0
	for _, s := range r.Species {
		live += s.LivePerPlacement
	}
	return live
}
