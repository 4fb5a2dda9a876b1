package seed

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// BlendPart is what goes into a blend of one lot: whole grams, above 0.
type BlendPart struct {
	Lot    Lot
	Tests  []Test
	Source Source
}

// Blend is the lot that the parts make: purity, units, density and cost as the weights
// have it. Code, ReceivedOn and Note are the caller's. The parts must be two or more lots
// of one species whose tests counted the same unit, none of them on hold.
func Blend(parts []BlendPart) (Lot, error) {
	if err := checkBlend(parts); err != nil {
		return Lot{}, err
	}
	first := parts[0].Lot
	b := Lot{Species: first.Species, CommonName: first.CommonName, Unit: first.Unit, Layer: first.Layer, CountHard: first.CountHard,
		RetestMonths: first.RetestMonths, Harvest: first.Harvest}
	for _, p := range parts {
		b.RetestMonths, b.Harvest = min(b.RetestMonths, p.Lot.RetestMonths), min(b.Harvest, p.Lot.Harvest)
		b.TreatedOn = max(b.TreatedOn, p.Lot.TreatedOn)
	}
	b.Form, b.Origin = joined(parts, func(l Lot) string { return l.Form }), joined(parts, func(l Lot) string { return l.Origin })
	b.Permit, b.Treatment = joined(parts, func(l Lot) string { return l.Permit }), joined(parts, func(l Lot) string { return l.Treatment })
	b.weigh(parts)
	return b, nil
}

func checkBlend(parts []BlendPart) error {
	if len(parts) < 2 {
		return fault.Refuse("parts", "a blend is made of two lots or more, enter the kilograms of each")
	}
	first := parts[0].Lot
	for _, p := range parts {
		switch {
		case p.Source.Grams <= 0:
			return fault.Refuse("parts", "%s gives nothing to the blend, enter its kilograms or leave it out", p.Lot.Code)
		case !(p.Lot.PurityPercent > 0 && p.Lot.UnitsPerKg > 0):
			return fault.Refuse("parts", "the purity or the units per kg of %s are not known, enter them before it is blended", p.Lot.Code)
		case p.Lot.OnHold():
			return fault.Refuse("parts", "lot %s is on hold: %s. Nothing may be mixed from it", p.Lot.Code, p.Lot.HoldReason)
		case p.Lot.Species != first.Species || p.Lot.Layer != first.Layer:
			return fault.Refuse("parts", "%s is %s and %s is %s: a blend is of one species", first.Code, first.Species, p.Lot.Code, p.Lot.Species)
		case p.Lot.Unit != first.Unit || p.Lot.CountHard != first.CountHard:
			return fault.Refuse("parts", "the tests of %s and %s do not count the same: units and hard seed must agree before they are blended", first.Code, p.Lot.Code)
		}
	}
	return nil
}

// joined is what the parts say of one thing, each said once.
func joined(parts []BlendPart, of func(Lot) string) string {
	var said []string
	for _, p := range parts {
		if s := of(p.Lot); s != "" && !slices.Contains(said, s) {
			said = append(said, s)
		}
	}
	return strings.Join(said, "; ")
}

// weigh works out what follows from the weights. What one part does not know, the blend
// does not know.
func (l *Lot) weigh(parts []BlendPart) {
	var total, pure, units, litres, inert, other float64
	cost, treating, densities, inerts, others := money.Factor{}, money.Factor{}, true, true, true
	for _, p := range parts {
		g := float64(p.Source.Grams)
		total += g
		pure += g * p.Lot.PurityPercent / 100
		units += p.pureUnits()
		cost = cost.Plus(p.Lot.CostPerKg.Times(money.Whole(p.Source.Grams)))
		treating = treating.Plus(p.Lot.TreatmentPerKg.Times(money.Whole(p.Source.Grams)))
		if densities = densities && p.Lot.BulkDensityKgPerL > 0; densities {
			litres += g / 1000 / p.Lot.BulkDensityKgPerL
		}
		inert, inerts = addPart(inert, inerts, g, p.Lot.InertPercent)
		other, others = addPart(other, others, g, p.Lot.OtherSeedPercent)
	}
	const costDecimals = 4
	l.PurityPercent, l.UnitsPerKg = 100*pure/total, 1000*units/pure
	l.CostPerKg, l.TreatmentPerKg = cost.Over(money.Whole(int64(total)), costDecimals), treating.Over(money.Whole(int64(total)), costDecimals)
	if densities {
		l.BulkDensityKgPerL = total / 1000 / litres
	}
	if inerts {
		l.InertPercent = new(inert / total)
	}
	if others {
		l.OtherSeedPercent = new(other / total)
	}
}

// pureUnits is the units of pure seed in the part.
func (p BlendPart) pureUnits() float64 {
	return float64(p.Source.Grams) / 1000 * p.Lot.PurityPercent / 100 * p.Lot.UnitsPerKg
}

func addPart(sum float64, known bool, grams float64, percent *float64) (float64, bool) {
	if !known || percent == nil {
		return sum, false
	}
	return sum + grams**percent, true
}

// BlendTest is the test that a blend inherits: germination and hard seed of the parts'
// tests that count on a day, weighted by their units of pure seed. It is dated by the
// oldest of them (in a mixture the oldest test counts: US 7 CFR 201.22), and stands for as
// many seeds as its uncertainty is worth. ok is false where a part has no test that counts.
func BlendTest(parts []BlendPart, day unit.Date) (t Test, ok bool) {
	var units, share, hard, variance, seeds float64
	for _, p := range parts {
		units += p.pureUnits()
	}
	t = Test{Kind: GerminationTest, Laboratory: "worked out from the parts", Method: "germination of the parts' tests, weighted by units of pure seed; the oldest test's day"}
	var from []string
	for _, p := range parts {
		test, has := Counts(p.Tests, day, p.Lot.RetestMonths)
		g, err := JudgeGermination(GerminationCounts{Replicates: test.Replicates})
		if !has || err != nil {
			return Test{}, false
		}
		weight, n := p.pureUnits()/units, float64(g.Seeds)
		seeds += n
		found := g.GerminationExactPercent / 100
		share += weight * found
		hard += weight * float64(hardSeeds(test.Replicates)) / n
		variance += weight * weight * max(found*(1-found), 1/n) / n
		from = append(from, fmt.Sprintf("%s of %s", p.Lot.Code, test.TestedOn))
		if t.TestedOn == "" || test.TestedOn < t.TestedOn {
			t.TestedOn = test.TestedOn
		}
	}
	t.Reference = strings.Join(from, "; ")
	t.Replicates = []Replicate{standIn(share, hard, min(seeds, max(share*(1-share), variance)/variance))}
	return t, true
}

func hardSeeds(replicates []Replicate) (sum int) {
	for _, r := range replicates {
		sum += given(r.Hard)
	}
	return sum
}

// standIn is the counts that give a share to a ten-thousandth, of about as many seeds as
// its uncertainty is worth and never of more.
func standIn(share, hard, seeds float64) Replicate {
	best, off := 1, math.Inf(1)
	most := int(max(1, min(seeds, mostSeeds)))
	for n := most; n >= max(1, most*9/10); n-- {
		if miss := math.Abs(math.Round(share*float64(n))/float64(n) - share); miss < off-1e-5 {
			best, off = n, miss
		}
	}
	r := Replicate{Seeds: best, Normal: int(math.Round(share * float64(best)))}
	if hard > 0 {
		h := min(int(math.Round(hard*float64(best))), best-r.Normal)
		dead := best - r.Normal - h
		r.Hard, r.Dead = &h, &dead
	}
	return r
}
