package job

import (
	"rowtally/internal/money"
)

// SpentOn is what the job has cost so far, without tax: the seed and medium that its tubs
// and drill loads drew, less what came back; the hours and the fuel of its day sheets; the
// hands, the way and the work of others as told, else as planned (AsPlan) once the job is begun. What is set aside
// to sow again is no cost before it is spent. RowM is what is sown.
func SpentOn(f Facts) (Cost, error) { return spentBy(f, map[int64]pricedHour{}) }

// spentBy is SpentOn with the hours of machines that are worked out already.
func spentBy(f Facts, known map[int64]pricedHour) (Cost, error) {
	r := reckoning{}
	r.GrossM2 = f.GrossM2()
	r.RowM, _ = f.SownM()
	r.spendStock(f)
	r.spendMachines(f, known)
	costing := f.costing()
	if !f.begun() && len(f.Moved) == 0 {
		costing = costing.told()
	}
	r.spendFloat(costing, f.Costs.Rates)
	r.spendHands(costing, f.Costs.Rates)
	r.spendOthers(costing)
	r.spread(Costing{}, f.Costs.Rates)
	return r.Cost, r.failed
}

// told is what is known to be spent, without the plan that stands in for the rest.
func (c Costing) told() Costing {
	c.HandH, c.FloatKm = money.Factor{}, money.Factor{}
	var billed []OthersWork
	for _, o := range c.Others {
		if o.Billed != nil {
			billed = append(billed, o)
		}
	}
	c.Others = billed
	return c
}

// drewOf is what a job took of one lot or medium in the end, with its value.
type drewOf struct {
	kind     StockKind
	id       int64
	quantity int64 // g or mL
	value    money.Cents
}

// drew adds up the ledger of the job, in the order in which its stock was first drawn.
func (f Facts) drew() (list []drewOf) {
	at := map[Held]int{}
	for _, m := range f.Moved {
		key := Held{StockKind: m.StockKind, StockID: m.StockID}
		i, known := at[key]
		if !known {
			i = len(list)
			at[key] = i
			list = append(list, drewOf{kind: m.StockKind, id: m.StockID})
		}
		list[i].quantity -= m.Quantity
		list[i].value -= m.Value
	}
	return list
}

// spendStock adds the seed and the medium that the job took.
func (r *reckoning) spendStock(f Facts) {
	kg := map[int64]float64{}
	for _, d := range f.drew() {
		if d.kind == LotStock {
			kg[d.id] = float64(d.quantity) / 1000
			if lot, ok := f.Shelf.Lot(d.id); ok {
				r.addSeed(lot, thousandths(d.quantity), "drawn, less what came back")
			}
			continue
		}
		product, _ := f.Shelf.Product(d.id)
		if d.quantity > 0 {
			litres := thousandths(d.quantity)
			r.put(CostLine{Kind: MediumCost, ID: d.id, What: product.Name, Quantity: litres, Unit: "L", Price: d.value.Factor().Over(litres, priceDecimals), Amount: d.value,
				Source: "drawn, less what came back; moving average at each draw"})
		}
	}
	r.addInoculants(f, func(id int64) float64 { return kg[id] }, "seed drawn, less what came back")
}

func (r *reckoning) spendFloat(c Costing, rates CostRates) {
	km, source, asPlan := c.FloatKm, c.waySays(c.FloatKm), true
	if c.FloatDoneKm != nil {
		km, source, asPlan = *c.FloatDoneKm, "as driven; "+c.waySays(*c.FloatDoneKm), false
	}
	r.add(CostLine{Kind: FloatCost, What: "truck and float", Quantity: c.borne(km), Unit: "driven km", Price: rates.FloatPerKm, Source: source, AsPlan: asPlan})
}

func (r *reckoning) spendHands(c Costing, rates CostRates) {
	hours, source, asPlan := c.HandH, "planned hours; your rate", true
	if c.HandDoneH != nil {
		hours, source, asPlan = *c.HandDoneH, "as worked; your rate", false
	}
	r.add(CostLine{Kind: LabourCost, What: handsWhat, Quantity: hours, Unit: "h", Price: rates.LabourPerH, Source: source, AsPlan: asPlan})
}

// spendOthers adds what others billed, spread over the planned quantity.
func (r *reckoning) spendOthers(c Costing) {
	for i, o := range c.Others {
		line := CostLine{Kind: OthersCost, ID: int64(i), What: o.What, Quantity: o.Quantity, Unit: o.Unit, Price: o.UnitPrice, Source: "not billed by them yet", AsPlan: true}
		if o.Billed == nil || o.Quantity.Sign() <= 0 {
			r.add(line)
			continue
		}
		line.Amount, line.Source, line.AsPlan = o.Billed.Cents(), "as they billed it", false
		line.Price = o.Billed.Over(o.Quantity, priceDecimals)
		r.put(line)
	}
}
