package demo

import (
	"rowtally/internal/job"
	"rowtally/internal/money"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// costRates keeps the business's own rates. They are invented.
func (b *builder) costRates() {
	b.keep("cost rates", b.books.KeepCostRates(b.ctx, b.at("2025-07-01"), job.CostRates{
		LabourPerH: money.MustFactor("46.00"), FloatPerKm: money.MustFactor("1.95"), OverheadPercent: money.MustFactor("9"), OverheadPerRowKm: money.MustFactor("0"),
	}))
	b.keep("inoculants", b.books.KeepInoculants(b.ctx, b.at("2025-07-01"), []seed.Inoculant{
		{ForGroup: "C", Product: "peat inoculant (example)", PackG: 250, PackPrice: money.MustFactor("14.50")},
		{ForGroup: "Messina", Product: "freeze-dried inoculant (example)", PackG: 30, PackPrice: money.MustFactor("42.00")},
	}))
}

// effort is what a job takes beside its seed and medium, as planned and as told.
type effort struct {
	tractorH, seederH, drillH string // "" for none
	handH, handDoneH          string
	km, share, shareWhy       string
	doneKm                    string
	resow, resowWhy           string
	others                    []job.OthersWork
}

// costs enters what a job takes.
func (b *builder) costs(jobID int64, on unit.Date, e effort) {
	c := job.Costing{JobID: jobID, HandH: money.MustFactor(e.handH), HandDoneH: toldOf(e.handDoneH), FloatKm: money.MustFactor(e.km), FloatDoneKm: toldOf(e.doneKm),
		FloatSharePercent: money.MustFactor("100"), FloatShareWhy: e.shareWhy, ResowWhy: e.resowWhy, Others: e.others}
	if e.share != "" {
		c.FloatSharePercent = money.MustFactor(e.share)
	}
	if e.resow != "" {
		c.ResowPercent = money.MustFactor(e.resow)
	}
	for _, m := range []struct{ name, hours string }{{"tractor", e.tractorH}, {"twin-row mounder-seeder", e.seederH}, {"alley drill", e.drillH}} {
		if m.hours != "" {
			c.Machines = append(c.Machines, job.MachineHours{MachineID: b.machines[m.name], Hours: money.MustFactor(m.hours)})
		}
	}
	b.keep("costs", b.books.KeepCosting(b.ctx, b.at(on), c))
}

func toldOf(figure string) *money.Factor {
	if figure == "" {
		return nil
	}
	return new(money.MustFactor(figure))
}

// sprayed is a spray by a licensed contractor of the district.
func sprayed(ha, billed string) []job.OthersWork {
	return []job.OthersWork{{What: "knockdown spray by a licensed contractor", Quantity: money.MustFactor(ha), Unit: "ha", UnitPrice: money.MustFactor("16.50"), Billed: toldOf(billed)}}
}
