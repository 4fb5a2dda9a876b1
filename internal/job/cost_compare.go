package job

import (
	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// CostCheck sets what a job was planned to cost beside what it has cost.
type CostCheck struct {
	Plan, Spent Cost
	PlanOf      string  // the quote that the plan was frozen with; "" for the plan as it is today
	SownM       float64 // metres of row, by By
	By          string
	Share       money.Factor // of the planned rows that is sown: what the plan's quantities are taken times
	Rows        []CostCheckRow
	Sum         bill.Variance // of the rows
	Standard    money.Cents   // what the rows should have cost
	Actual      money.Cents   // what they cost
}

// CostCheckRow is one thing that a job takes, as it should have been for the rows really
// sown and as it was.
type CostCheckRow struct {
	Kind             CostKind
	What, Unit       string
	PlannedQuantity  money.Factor // of the whole job
	StandardQuantity money.Factor // for the rows really sown
	ActualQuantity   money.Factor
	StandardPrice    money.Factor
	ActualPrice      money.Factor
	Standard, Actual money.Cents
	bill.Variance
}

// followsSown are the kinds whose quantity follows the rows: the rest is as planned however
// much is sown.
func (k CostKind) followsSown() bool {
	switch k {
	case SeedCost, TreatmentCost, MediumCost, MachineCost, FuelCost, LabourCost:
		return true
	}
	return false
}

// CheckCost compares what was spent with what the plan allows for the rows really sown, price
// and quantity apart (bill.Compare: + is dearer than planned). Lines of which nothing is told
// yet, the allowance and the overhead are not compared. It errs while nothing is done.
func CheckCost(f Facts) (CostCheck, error) {
	if !f.begun() && len(f.DrillLoads) == 0 {
		return CostCheck{}, fault.Conflict("Nothing of this job is done yet. What it really takes is set beside the plan once tubs are mixed and day sheets entered.")
	}
	plan, planOf, err := f.standard()
	if err != nil {
		return CostCheck{}, err
	}
	spent, err := SpentOn(f)
	if err != nil {
		return CostCheck{}, err
	}
	c := CostCheck{Plan: plan, Spent: spent, PlanOf: planOf}
	c.SownM, c.By = f.SownM()
	c.Share = money.Whole(1)
	if plan.RowM > 0 {
		c.Share = money.FactorOf(c.SownM, 3).Over(money.FactorOf(plan.RowM, 3), shareDecimals)
	}
	return c, c.compare()
}

// shareDecimals is how finely the share of the rows that is sown is carried.
const shareDecimals = 12

// standard is what the job is measured by: the plan as frozen with the quote that was agreed,
// else with the newest one, else as it is today.
func (f Facts) standard() (plan Cost, of string, err error) {
	quote, yes, agreed := f.Agreed()
	if !agreed {
		quote, _ = f.Quote()
	} else if plan, kept := f.plannedCost(yes); kept {
		return plan, quote.Number + inAlternative(quote) + " of " + quote.IssuedOn.String(), nil
	}
	if plan, kept := f.Costs.Plans[quote.ID]; kept && quote.ID != 0 {
		return plan, quote.Number + " of " + quote.IssuedOn.String(), nil
	}
	plan, err = CostOf(f)
	return plan, "", err
}

// place is where a line of the plan and one of what was spent meet.
type place struct {
	kind CostKind
	id   int64
	unit string
}

func (l CostLine) place() place { return place{l.Kind, l.ID, l.Unit} }

// compare pairs the lines up: those of the plan in their order, then what it did not have.
func (c *CostCheck) compare() error {
	spent := map[place]CostLine{}
	for _, l := range c.Spent.Lines {
		spent[l.place()] = l
	}
	planned := map[place]bool{}
	for _, l := range c.Plan.Lines {
		planned[l.place()] = true
		got := spent[l.place()]
		if l.Kind == ResowCost || l.Kind == OverheadCost || got.AsPlan {
			continue
		}
		if err := c.pair(l, got); err != nil {
			return err
		}
	}
	for _, l := range c.Spent.Lines {
		if !planned[l.place()] && l.Kind != OverheadCost {
			if err := c.pair(CostLine{Kind: l.Kind, What: l.What, Unit: l.Unit}, l); err != nil {
				return err
			}
		}
	}
	return nil
}

// pair sets one line of the plan beside what was spent of it.
func (c *CostCheck) pair(l, got CostLine) error {
	row := CostCheckRow{Kind: l.Kind, What: l.What, Unit: l.Unit, PlannedQuantity: l.Quantity, StandardQuantity: l.Quantity, StandardPrice: l.Price,
		ActualQuantity: got.Quantity, ActualPrice: got.Price, Actual: got.Amount}
	if l.Kind.followsSown() {
		row.StandardQuantity = l.Quantity.Times(c.Share)
	}
	var err error
	if row.Variance, err = bill.Compare(bill.VarianceIn{
		PlannedQuantity: money.Exact{Factor: row.StandardQuantity}, PlannedPrice: row.StandardPrice,
		ActualQuantity: money.Exact{Factor: row.ActualQuantity}, ActualPrice: row.ActualPrice,
	}); err != nil {
		return err
	}
	row.Standard = row.Actual - row.Total
	c.Rows = append(c.Rows, row)
	c.Sum.Price, c.Sum.Quantity, c.Sum.Total = c.Sum.Price+row.Price, c.Sum.Quantity+row.Quantity, c.Sum.Total+row.Total
	c.Standard, c.Actual = c.Standard+row.Standard, c.Actual+row.Actual
	return nil
}

// Earned is what a job brought in: billed without tax, less its cost.
type Earned struct {
	Net, Cost, Left money.Cents
	Margin, Markup  *money.Factor // in per cent of the price and of the cost; nil where there is none
}

// EarnedBy sets a price without tax against a cost.
func EarnedBy(net, cost money.Cents) Earned {
	e := Earned{Net: net, Cost: cost, Left: net - cost}
	if margin, err := money.MarginPercent(cost.Factor(), net.Factor()); err == nil {
		e.Margin = &margin
	}
	if markup, err := money.MarkupPercent(cost.Factor(), net.Factor()); err == nil {
		e.Markup = &markup
	}
	return e
}

// ByPlan is what the job brings by its newest quote and its plan; ok is false without either.
func (f Facts) ByPlan(plan Cost) (Earned, bool) {
	quote, quoted := f.Quote()
	return EarnedBy(f.asAgreed(quote).NetTotal, plan.Total), quoted && plan.Total > 0
}

// ByBill is what the job brought by its invoices with their adjustment notes; ok is false
// before it is billed.
func (f Facts) ByBill(spent Cost) (Earned, bool) {
	net, billed := f.BilledNet()
	return EarnedBy(net, spent.Total), billed
}

// Loss is what is lost, above 0 where the cost is above the price.
func (e Earned) Loss() money.Cents { return -e.Left }

// MarginShown writes the margin with one decimal; "" where there is none.
func (e Earned) MarginShown() string { return percentShown(e.Margin) }

// MarkupShown writes the mark-up with one decimal; "" where there is none.
func (e Earned) MarkupShown() string { return percentShown(e.Markup) }

func percentShown(f *money.Factor) string {
	if f == nil {
		return ""
	}
	return unit.Grouped(f.Float(), 1)
}

// StandardShown writes what the rows sown should take, ActualShown what they took.
func (r CostCheckRow) StandardShown() string { return quantityShown(r.StandardQuantity, r.Unit) }
func (r CostCheckRow) ActualShown() string   { return quantityShown(r.ActualQuantity, r.Unit) }

// StandardPriceShown writes the planned price of a unit, ActualPriceShown what it came to.
func (r CostCheckRow) StandardPriceShown() string { return priceShown(r.StandardPrice) }
func (r CostCheckRow) ActualPriceShown() string   { return priceShown(r.ActualPrice) }
