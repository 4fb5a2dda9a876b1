package job

import (
	"fmt"

	"rowtally/internal/money"
	"rowtally/internal/seed"
)

// CostOf is what the whole job costs as planned, without tax: the seed by lot at what each
// lot cost, the medium at the moving average of what is on hand, machines, fuel and labour
// by the planned hours, the way, the work of others, the allowance to sow again and the
// overhead. A catch test changes what was mixed, not what was planned. What is not known
// yet is left out and said in LeftOut; it errs while a job with rows has none laid, or
// where nothing at all is known of what it takes.
func CostOf(f Facts) (Cost, error) {
	f.Catches = nil
	r := reckoning{}
	r.GrossM2 = f.GrossM2()
	if !f.Rowless() && !f.onlyBetween() {
		laid, err := f.Rows()
		if err != nil {
			return Cost{}, err
		}
		r.RowM = laid.RowM
		r.planMix(f)
	}
	r.planBetween(f)
	costing := f.costing()
	r.planMachines(f)
	r.planFloat(costing, f.Costs.Rates)
	r.planHands(costing, f.Costs.Rates)
	r.planOthers(costing)
	r.spread(costing, f.Costs.Rates)
	return r.Cost, r.failed
}

// onlyBetween tells whether nothing but the understorey is planned.
func (f Facts) onlyBetween() bool { return f.Layout == nil && f.Understorey != nil }

// costing is what was entered of the job's cost; nothing while nothing was.
func (f Facts) costing() Costing {
	if f.Costs.Costing == nil {
		return Costing{JobID: f.Job.ID}
	}
	return *f.Costs.Costing
}

// planMix adds the seed and the medium of the rows.
func (r *reckoning) planMix(f Facts) {
	w, err := f.WorkRecipe(r.RowM)
	if err != nil {
		r.leaveOut("Seed and medium of the rows: %s", err.Error())
		return
	}
	for i, species := range f.Recipe.Species {
		for k, id := range species.LotIDs {
			lot, _ := f.Shelf.Lot(id)
			r.addSeed(lot, money.FactorOf(w.Mix.Species[i].Lots[k].WeighedKg, 6), "the mix over all rows")
		}
	}
	product, _ := f.Shelf.Product(f.Recipe.ProductID)
	price, source := f.Shelf.MediumPrice(product.ID)
	if price.Sign() == 0 {
		r.leaveOut("%s has no cost yet: enter what its deliveries cost.", sentenceCase(product.Name))
	}
	r.add(CostLine{Kind: MediumCost, ID: product.ID, What: product.Name, Quantity: money.FactorOf(w.Mix.MediumL, 3), Unit: "L", Price: price, Source: source})
}

// addSeed adds so many kg of a lot.
func (r *reckoning) addSeed(lot seed.Lot, kg money.Factor, source string) {
	if lot.CostPerKg.Sign() == 0 {
		r.leaveOut("Lot %s has no cost a kg yet: enter it on the lot's page.", lot.Code)
	}
	r.add(CostLine{Kind: SeedCost, ID: lot.ID, What: lot.Code + " " + lot.CommonName, Quantity: kg, Unit: "kg", Price: lot.CostPerKg, Source: source + "; what the lot cost a kg"})
	r.addTreatment(lot, kg, source)
}

// planBetween adds the seed of the understorey.
func (r *reckoning) planBetween(f Facts) {
	if f.Understorey == nil {
		return
	}
	worked, err := f.WorkUnderstorey()
	if err != nil {
		r.leaveOut("Seed of the understorey: %s", err.Error())
		return
	}
	for _, need := range f.understoreyNeeds(worked) {
		lot, _ := f.Shelf.Lot(need.StockID)
		r.addSeed(lot, thousandths(need.Wanted), "the understorey over "+worked.HaSays)
	}
	kg := map[int64]float64{}
	for i, s := range f.Understorey.Species {
		for k, id := range s.LotIDs {
			kg[id] += worked.Species[i].Lots[k].Kg
		}
	}
	r.addInoculants(f, func(id int64) float64 { return kg[id] }, "the understorey's seed")
}

// planFloat adds the job's share of the way of truck and float.
func (r *reckoning) planFloat(c Costing, rates CostRates) {
	if c.FloatKm.Sign() > 0 && rates.FloatPerKm.Sign() == 0 {
		r.leaveOut("Travel: enter what a driven km of truck and float costs.")
	}
	r.add(CostLine{Kind: FloatCost, What: "truck and float", Quantity: c.borne(c.FloatKm), Unit: "driven km", Price: rates.FloatPerKm, Source: c.waySays(c.FloatKm)})
}

// borne is the job's share of a way.
func (c Costing) borne(km money.Factor) money.Factor { return km.Percent(c.FloatSharePercent) }

// waySays tells how a way is shared.
func (c Costing) waySays(km money.Factor) string {
	if !c.shared() {
		return "out and back; your rate"
	}
	return fmt.Sprintf("%s %% of %s km out and back: %s; your rate", c.FloatSharePercent, km, c.FloatShareWhy)
}

// planHands adds the hours beside the machine hours.
func (r *reckoning) planHands(c Costing, rates CostRates) {
	if c.HandH.Sign() > 0 && rates.LabourPerH.Sign() == 0 {
		r.leaveOut("Labour: enter what an hour of hands costs.")
	}
	r.add(CostLine{Kind: LabourCost, What: handsWhat, Quantity: c.HandH, Unit: "h", Price: rates.LabourPerH, Source: "planned hours; your rate"})
}

const handsWhat = "hands: mixing, calibrating, walking"

// planOthers adds what other people are to do.
func (r *reckoning) planOthers(c Costing) {
	for i, o := range c.Others {
		r.add(CostLine{Kind: OthersCost, ID: int64(i), What: o.What, Quantity: o.Quantity, Unit: o.Unit, Price: o.UnitPrice, Source: "as asked or quoted"})
	}
}

// MediumPrice is what a litre of a medium costs that is issued now: the moving average of
// what is on hand, else the price of a bag; 0 where neither is known.
func (s Shelf) MediumPrice(productID int64) (perL money.Factor, source string) {
	if ml, worth := s.OnHand(MediumStock, productID), s.Worth(productID); worth > 0 && ml > 0 {
		return worth.Factor().Over(thousandths(ml), priceDecimals), "moving average of what is on hand"
	}
	product, ok := s.Product(productID)
	if !ok || product.BagL <= 0 {
		return money.Factor{}, "no cost is known"
	}
	return product.CostPerBag.Over(money.FactorOf(product.BagL, 3), priceDecimals), "price of a bag, none being on hand"
}

// Worth is what a medium on hand cost.
func (s Shelf) Worth(productID int64) money.Cents {
	for _, w := range s.Worths {
		if w.ID == productID && w.Kind == MediumStock {
			return w.Value
		}
	}
	return 0
}
