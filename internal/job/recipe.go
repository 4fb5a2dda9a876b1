package job

import (
	"fmt"
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/mix"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// Worked is a job's recipe worked out: the mix, and what stands in its way.
type Worked struct {
	Mix     mix.Mix
	Lots    []seed.Lot // of the recipe, in its order
	Filled  float64    // expected share of placements filled, 0..1
	Refusal string     // why nothing may be mixed, or not all; "" when it may
	onHold  bool       // a lot is on hold, so that nothing may be mixed at all
	Short   []Shortage // what the shed cannot give
}

// Shortage is what a job needs beyond what is free.
type Shortage struct {
	Kind StockKind
	ID   int64
	Name string
	Need int64 // g or mL
	Free int64
}

// RecipeLots are the lots that the job's recipe names, in its order.
func (f Facts) RecipeLots() []seed.Lot {
	if f.Recipe == nil {
		return nil
	}
	var lots []seed.Lot
	for _, species := range f.Recipe.Species {
		for _, id := range species.LotIDs {
			if lot, ok := f.Shelf.Lot(id); ok {
				lots = append(lots, lot)
			}
		}
	}
	return lots
}

// WorkRecipe works out the mix for a length of row, with what lots are worth today and
// what is free of them for the job.
func (f Facts) WorkRecipe(rowM float64) (Worked, error) {
	if f.Recipe == nil {
		return Worked{}, fault.Conflict("No lots are chosen yet.")
	}
	in, err := f.mixRecipe(rowM)
	if err != nil {
		return Worked{}, err
	}
	result, err := mix.MakeUp(in)
	if err != nil {
		return Worked{}, err
	}
	w := Worked{Mix: result, Lots: f.RecipeLots(), Filled: result.ExpectedFilledFraction}
	w.Short = f.shortages(w)
	w.Refusal, w.onHold = f.refusal(w)
	return w, nil
}

// mixRecipe is the recipe of package mix, from the nouns.
func (f Facts) mixRecipe(rowM float64) (mix.Recipe, error) {
	r := f.Recipe
	product, ok := f.Shelf.Product(r.ProductID)
	if !ok {
		return mix.Recipe{}, fault.Conflict("The recipe names no bulking medium that is kept. Choose one.")
	}
	in := mix.Recipe{
		RowKm: rowM / 1000, PlacementSpacingM: f.Layout.SpacingM, PlacementVolumeML: f.placementML(), TubL: r.TubL,
		SparePercent: r.SparePercent, ScaleStepG: &r.ScaleStepG,
		Medium: mediumOf(product), SeedFillsVoidsFraction: r.VoidsFraction,
	}
	for _, species := range r.Species {
		one, err := f.mixSpecies(species)
		if err != nil {
			return in, err
		}
		in.Species = append(in.Species, one)
	}
	return in, nil
}

// placementML is what one placement holds: as caught, or as the recipe says before a catch.
func (f Facts) placementML() float64 {
	if caught, ok := f.CatchFound(); ok {
		return caught.PlacementVolumeML
	}
	return f.Recipe.PlacementML
}

func mediumOf(p mix.Product) mix.Medium {
	m := mix.Medium{BulkDensityKgPerM3: p.BulkDensityKgPerM3}
	if p.BagL > 0 {
		m.BagL, m.CostPerBag = &p.BagL, &p.CostPerBag
	}
	return m
}

func (f Facts) mixSpecies(species RecipeSpecies) (mix.Species, error) {
	out := mix.Species{Name: species.Species, EmergenceFraction: species.EmergencePercent / 100}
	if species.EmergenceHighPercent > 0 {
		out.EmergenceLowFraction, out.EmergenceHighFraction = new(species.EmergenceLowPercent/100), new(species.EmergenceHighPercent/100)
	}
	if species.TargetFilledPercent > 0 {
		target := species.TargetFilledPercent / 100
		out.TargetFilledFraction = &target
	} else {
		out.LiveSeedsPerPlacement = &species.LivePerPlacement
	}
	for i, id := range species.LotIDs {
		lot, ok := f.Shelf.Lot(id)
		if !ok {
			return out, fault.Conflict("The recipe names a lot that is no longer kept. Choose the lots again.")
		}
		figures := f.Live(lot)
		if !figures.Tested {
			return out, fault.Conflict("Lot %s has no germination test, so its live seed is not known. Enter its test, or choose another lot.", lot.Code)
		}
		out.Lots = append(out.Lots, f.mixLot(lot, figures, share(species.SharePercents, i)))
	}
	return out, nil
}

// share is what a lot gives of its species, 0..1; nil where all give alike.
func share(percents []float64, i int) *float64 {
	if i >= len(percents) {
		return nil
	}
	return new(percents[i] / 100)
}

func (f Facts) mixLot(lot seed.Lot, figures LotFigures, share *float64) mix.Lot {
	available := float64(f.Shelf.Free(LotStock, lot.ID, f.Job.ID)) / 1000
	out := mix.Lot{
		Draw:       mix.Draw{Code: lot.Code, Quality: figures.Quality, ShareFraction: share, AvailableKg: &available, CostPerKg: new(lot.ReadyPerKg())},
		UnitsPerKg: lot.UnitsPerKg,
	}
	if f.Recipe.LiveBy != BySafeSide { // which is an end of the interval already
		out.SeedsTested = &figures.Germination.Seeds
	}
	if lot.BulkDensityKgPerL > 0 {
		out.BulkDensityKgPerL = &lot.BulkDensityKgPerL
	}
	return out
}

// refusal says why nothing may be mixed from the recipe, or not all of it, with the way out;
// "" when it may. A lot on hold comes before any that is short.
func (f Facts) refusal(w Worked) (says string, onHold bool) {
	for i, species := range f.Recipe.Species {
		for k, id := range species.LotIDs {
			lot, _ := f.Shelf.Lot(id)
			need := w.Mix.Species[i].Lots[k]
			wayOut := func() string { return f.wayOut(lot, need.WeighedKg*need.LivePerKg) }
			needG, freeG := ceil(need.WeighedKg*1000), f.Shelf.Free(LotStock, id, f.Job.ID)
			if lot.OnHold() {
				return fmt.Sprintf("Lot %s is on hold: %s. By its last test the job would take %s kg of it, and %s kg are free. Nothing may be mixed from it. %s",
					lot.Code, lot.HoldReason, grams(needG), grams(freeG), wayOut()), true
			}
			if short := f.shortOf(w, LotStock, id); short > 0 && says == "" {
				says = fmt.Sprintf("Lot %s is short by %s kg: the job still takes %s kg and %s kg are free. %s",
					lot.Code, grams(short), grams(short+freeG), grams(freeG), wayOut())
			}
		}
	}
	return says, false
}

// shortOf is how much of a lot or product the recipe lacks, in g or mL.
func (f Facts) shortOf(w Worked, kind StockKind, id int64) int64 {
	for _, s := range w.Short {
		if s.Kind == kind && s.ID == id {
			return s.Need - s.Free
		}
	}
	return 0
}

// wayOut names the lots of the same species whose free seed holds as many live seeds.
func (f Facts) wayOut(instead seed.Lot, liveSeeds float64) string {
	var enough []string
	for _, lot := range f.Shelf.Lots {
		figures := f.Live(lot)
		free := float64(f.Shelf.Free(LotStock, lot.ID, f.Job.ID)) / 1000
		if lot.ID != instead.ID && lot.Species == instead.Species && !lot.OnHold() && figures.Tested && free*figures.LivePerKg >= liveSeeds {
			enough = append(enough, lot.Code)
		}
	}
	switch len(enough) {
	case 0:
		return "No other lot of the species has enough free live seed: ask for fewer live seeds a placement, add a second species, or buy."
	case 1:
		return enough[0] + " has enough free live seed."
	}
	return listed(enough) + " have enough free live seed each."
}

// shortages are what the recipe needs beyond what is free for this job.
func (f Facts) shortages(w Worked) []Shortage {
	var short []Shortage
	for _, need := range f.needs(w) {
		if free := f.Shelf.Free(need.StockKind, need.StockID, f.Job.ID); need.Wanted > free {
			short = append(short, Shortage{need.StockKind, need.StockID, f.stockName(need), need.Wanted, free})
		}
	}
	return short
}

// needs are what a mix takes of each lot and of the medium, in whole g and mL.
func (f Facts) needs(w Worked) []Held {
	var needs []Held
	for i, species := range f.Recipe.Species {
		for k, id := range species.LotIDs {
			needs = append(needs, Held{f.Job.ID, LotStock, id, ceil(w.Mix.Species[i].Lots[k].WeighedKg * 1000), 0})
		}
	}
	return append(needs, Held{f.Job.ID, MediumStock, f.Recipe.ProductID, ceil(w.Mix.MediumL * 1000), 0})
}

// Claims are what the farmer's yes holds back for the job: what its tubs still to be mixed
// and its understorey take. A lot on hold is not claimed.
func Claims(f Facts) ([]Held, error) {
	rows, err := f.rowClaims()
	if err != nil {
		return nil, err
	}
	between, err := f.understoreyClaims()
	return append(rows, between...), err
}

// rowClaims are what the tubs still to be mixed take. A job without a recipe has none.
func (f Facts) rowClaims() ([]Held, error) {
	if f.Recipe == nil {
		return nil, nil
	}
	laid, err := f.Rows()
	if err != nil {
		return nil, err
	}
	w, err := f.workLeft(laid.RowM)
	if err != nil || w == nil {
		return nil, err
	}
	var claims []Held
	for _, need := range f.needs(*w) {
		lot, _ := f.Shelf.Lot(need.StockID)
		if need.Wanted > 0 && !(need.StockKind == LotStock && lot.OnHold()) {
			claims = append(claims, need)
		}
	}
	return claims, nil
}

// leastLeftM is the length of row below which no tub is mixed any more: day sheets count
// in tenths of a row-km. Our own rule.
const leastLeftM = 50.0

// workLeft works the recipe out for the rows that a tub is still to be mixed for; nil when
// there is none. A job that reads as sown, billed or declined wants nothing more of the
// shed: the ends of rows that were left out are not mixed for.
func (f Facts) workLeft(plannedM float64) (*Worked, error) {
	leftM, stage := f.LeftM(plannedM), StageOf(f)
	if leftM < leastLeftM || stage == AllSown || !stage.Open() {
		return nil, nil
	}
	w, err := f.WorkRecipe(leftM)
	return &w, err
}

// ceil is the next whole g or mL up; what a float sum is off by does not count.
func ceil(v float64) int64 { return int64(math.Ceil(v - 1e-6)) }

// grams writes whole grams as kilograms.
func grams(g int64) string { return unit.Grouped(float64(g)/1000, 2) }

func (f Facts) stockName(h Held) string {
	if h.StockKind == LotStock {
		lot, _ := f.Shelf.Lot(h.StockID)
		return lot.Code
	}
	product, _ := f.Shelf.Product(h.StockID)
	return product.Name
}
