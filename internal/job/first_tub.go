package job

import (
	"rowtally/internal/fault"
	"rowtally/internal/mix"
)

// FirstTub is the job's first tub with the medium that it took to its line, in litres: the
// one that was mixed, or while none is, the next one to be mixed.
func (f Facts) FirstTub(mediumL float64) (mix.FirstTub, error) {
	out := mix.FirstTub{MediumL: mediumL}
	var lots []mix.Ingredient
	if len(f.Tubs) > 0 {
		out.TubL, lots = float64(f.Tubs[0].MixML)/1000, f.Tubs[0].Ingredient
	} else {
		sheet, err := MixingSheetOf(f)
		if err != nil {
			return out, err
		}
		tub := TubOf(f, sheet)
		out.TubL, lots = sheet.Tubs[0].MixL, tub.Ingredient
	}
	for _, in := range lots {
		if lot, ok := f.Shelf.Lot(in.LotID); ok && lot.BulkDensityKgPerL > 0 {
			out.SeedL += float64(in.Grams) / 1000 / lot.BulkDensityKgPerL
		}
	}
	return out, nil
}

// MixView is a job's mix as its page shows it: as planned over all its rows, and the tubs
// still to be mixed.
type MixView struct {
	Worked
	Sheet  MixingSheet
	Cannot string         // why no tub is to be mixed now; "" when one is
	Off    []mix.MeterOff // what a meter that is off does to the whole mix
}

// MixViewOf works a job's mix out for its page. Without rows or lots it is refused.
func MixViewOf(f Facts) (MixView, error) {
	laid, err := f.Rows()
	if err != nil {
		return MixView{}, err
	}
	v := MixView{}
	if v.Worked, err = f.WorkRecipe(laid.RowM); err != nil {
		return v, err
	}
	v.Off = v.Mix.MeterOff()
	v.Sheet, err = MixingSheetOf(f)
	switch {
	case err == nil:
	case fault.KindOf(err) == fault.Internal:
		return v, err
	default:
		v.Cannot = err.Error()
	}
	return v, nil
}
