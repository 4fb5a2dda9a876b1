package seed

import (
	"errors"
	"math"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// Inoculant is what is bought to inoculate the seed of one group of legumes, and what it costs.
type Inoculant struct {
	ID        int64
	ForGroup  string       // of rhizobia, as the label has it, "C"; one inoculant a group
	Product   string       // as it is sold
	PackG     float64      // of one pack, 1 to 100,000 g
	PackPrice money.Factor // without tax, from 0
	Keeps     bool         // what is left of an opened pack is used later; else every pack begun is used up
}

// Check refuses an inoculant without a group ("for_group") or a product ("product"), and a
// pack that is none ("pack_g", "pack_price").
func (in Inoculant) Check() error {
	var errs []error
	if strings.TrimSpace(in.ForGroup) == "" {
		errs = append(errs, fault.Refuse("for_group", "enter the group of legumes that it is for, as its label has it"))
	}
	if strings.TrimSpace(in.Product) == "" {
		errs = append(errs, fault.Refuse("product", "enter what it is sold as"))
	}
	if !(in.PackG >= 1 && in.PackG <= 100_000) {
		errs = append(errs, fault.Refuse("pack_g", "a pack holds from 1 to 100 000 g, enter what its label says"))
	}
	if in.PackPrice.Sign() < 0 {
		errs = append(errs, fault.Refuse("pack_price", "a pack costs 0 or more"))
	}
	return errors.Join(errs...)
}

// Packs is how many packs so many grams take, from 0: whole ones, unless what is left keeps.
// A pack that is begun counts whole once more than 1/1000 g of it is wanted.
func (in Inoculant) Packs(grams float64) float64 {
	const none = 1e-3
	packs := grams / in.PackG
	if in.Keeps {
		return packs
	}
	return math.Ceil((grams - none) / in.PackG)
}

// InoculantFor finds the inoculant of a group, whatever its capitals.
func InoculantFor(all []Inoculant, group string) (Inoculant, bool) {
	for _, in := range all {
		if strings.EqualFold(strings.TrimSpace(in.ForGroup), strings.TrimSpace(group)) {
			return in, true
		}
	}
	return Inoculant{}, false
}
