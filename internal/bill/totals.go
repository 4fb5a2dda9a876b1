package bill

import (
	"errors"

	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// Taxed tells how one line, allowance or charge is taxed.
type Taxed struct {
	TaxCategory string      `json:"tax_category"` // S, Z, E, O or G (see taxCategories)
	TaxPercent  money.Exact `json:"tax_percent"`  // 0 to 100; 0 for every category but S
}

// Line is one line of a bill before it is worked out.
type Line struct {
	Quantity     money.Factor  `json:"quantity"`   // negative to take back
	UnitPrice    money.Factor  `json:"unit_price"` // without tax, for BaseQuantity units
	BaseQuantity *money.Factor `json:"base_quantity,omitempty"`
	Allowance    money.Factor  `json:"allowance,omitzero"` // taken off the line
	Charge       money.Factor  `json:"charge,omitzero"`    // put on the line
	Taxed
}

// Extra is an allowance or a charge on the whole bill.
type Extra struct {
	Amount money.Factor `json:"amount"`
	Taxed
}

// TotalsIn is a bill before it is worked out.
type TotalsIn struct {
	Lines      []Line       `json:"lines"`
	Allowances []Extra      `json:"allowances,omitempty"`
	Charges    []Extra      `json:"charges,omitempty"`
	Prepaid    money.Factor `json:"prepaid,omitzero"`
	Rounding   money.Factor `json:"rounding,omitzero"`            // added to what is payable
	Inclusive  bool         `json:"prices_include_tax,omitempty"` // whether every price and amount holds its tax
}

// LineNet is what one line comes to, without tax; with it where prices include it.
type LineNet struct {
	Net money.Cents `json:"net"`
}

// TaxRow is the tax of one category and rate.
type TaxRow struct {
	Taxed
	Taxable money.Cents `json:"taxable"`
	Tax     money.Cents `json:"tax"`
}

// Totals is a bill worked out. The rows of Tax stand in the order S, Z, E, O, G and
// within a category from the lowest rate up.
type Totals struct {
	Lines         []LineNet   `json:"lines"`
	SumOfLines    money.Cents `json:"sum_of_lines"`
	SumAllowances money.Cents `json:"sum_of_allowances"`
	SumCharges    money.Cents `json:"sum_of_charges"`
	TotalExcl     money.Cents `json:"total_excl"`
	Tax           []TaxRow    `json:"tax"`
	TotalTax      money.Cents `json:"total_tax"`
	TotalIncl     money.Cents `json:"total_incl"`
	Prepaid       money.Cents `json:"prepaid"`
	Rounding      money.Cents `json:"rounding"`
	Payable       money.Cents `json:"payable"`

	in TotalsIn
}

// mostLines bounds a bill: with it no sum of amounts overflows.
const mostLines = 20_000

// WorkOut adds up a bill as EN 16931 has it (rules BR-CO-10 to 17 and BR-S-08, taken over
// by the Peppol rules of Australia and New Zealand) and as the total invoice rule of the
// GST Act 1999 (Cth), s 9-90, allows: every line is rounded to cents, and the tax is
// taken once for each category and rate, on the sum of its rounded lines. Halves go away
// from zero. Amounts given with more than two decimals are rounded one by one. Of prices
// that include their tax the tax is taken out, 1/11 at 10 %, and the rest is taxable, so
// that the two add up to what was asked.
//
// It refuses an empty bill, a base quantity that is not above 0, a tax category or rate
// that is none, and amounts beyond money.Largest, naming the field.
func WorkOut(in TotalsIn) (Totals, error) {
	if err := checkTotalsIn(in); err != nil {
		return Totals{}, err
	}
	t := Totals{in: in, Prepaid: in.Prepaid.Cents(), Rounding: in.Rounding.Cents()}
	taxes := taxable{}
	for i, line := range in.Lines {
		net, err := line.Net()
		if err != nil {
			return Totals{}, fault.Under(at("lines", i), err)
		}
		t.Lines = append(t.Lines, LineNet{net})
		t.SumOfLines += net
		taxes.add(line.Taxed, net)
	}
	t.SumAllowances = taxes.addExtras(in.Allowances, -1)
	t.SumCharges = taxes.addExtras(in.Charges, 1)
	t.TotalExcl = t.SumOfLines - t.SumAllowances + t.SumCharges
	t.Tax = taxes.rows(in.Inclusive)
	for _, row := range t.Tax {
		t.TotalTax += row.Tax
	}
	if in.Inclusive {
		t.TotalExcl -= t.TotalTax
	}
	t.TotalIncl = t.TotalExcl + t.TotalTax
	t.Payable = t.TotalIncl - t.Prepaid + t.Rounding
	return t, t.tooLarge()
}

// Net is the line's amount as its price has it (Peppol rule R120): quantity × price ÷ base
// quantity rounded to cents, plus the charge, less the allowance, each rounded apart.
func (l Line) Net() (money.Cents, error) {
	goods, err := l.goods().Amount()
	if err != nil {
		return 0, fault.Refuse("quantity", "quantity times price is too large for a line: %v", err)
	}
	return goods + l.Charge.Cents() - l.Allowance.Cents(), nil
}

// goods is quantity × price ÷ base quantity; a division goes to whole cents at once.
func (l Line) goods() money.Factor {
	goods := l.Quantity.Times(l.UnitPrice)
	if l.BaseQuantity == nil {
		return goods
	}
	return goods.Over(*l.BaseQuantity, 2)
}

func (t Totals) tooLarge() error {
	for _, sum := range []money.Cents{t.SumOfLines, t.TotalExcl, t.TotalIncl, t.Payable} {
		if _, err := sum.Factor().Amount(); err != nil {
			return fault.Refuse("lines", "the bill adds up to too much: %v", err)
		}
	}
	return nil
}

// checkTotalsIn refuses what cannot be worked out, every field that is wrong at once.
func checkTotalsIn(in TotalsIn) error {
	if len(in.Lines) == 0 {
		return fault.Refuse("lines", "the bill has no lines, enter at least one")
	}
	if n := len(in.Lines) + len(in.Allowances) + len(in.Charges); n > mostLines {
		return fault.Refuse("lines", "the bill has %d lines, allowances and charges, enter at most %d", n, mostLines)
	}
	errs := []error{bounded("prepaid", in.Prepaid), bounded("rounding", in.Rounding)}
	for i, line := range in.Lines {
		errs = append(errs, fault.Under(at("lines", i), line.check()))
	}
	for i, extra := range in.Allowances {
		errs = append(errs, fault.Under(at("allowances", i), extra.check()))
	}
	for i, extra := range in.Charges {
		errs = append(errs, fault.Under(at("charges", i), extra.check()))
	}
	return errors.Join(errs...)
}

func (l Line) check() error {
	err := errors.Join(
		bounded("quantity", l.Quantity), bounded("unit_price", l.UnitPrice),
		bounded("allowance", l.Allowance), bounded("charge", l.Charge), l.Taxed.check())
	if l.BaseQuantity == nil {
		return err
	}
	if l.BaseQuantity.Sign() <= 0 {
		return errors.Join(err, fault.Refuse("base_quantity", "base quantity is %s, enter how many units the price is for, above 0", l.BaseQuantity))
	}
	return errors.Join(err, bounded("base_quantity", *l.BaseQuantity))
}

func (e Extra) check() error { return errors.Join(bounded("amount", e.Amount), e.Taxed.check()) }
