package bill

import (
	"fmt"

	"rowtally/internal/money"
	"rowtally/internal/working"
)

// currency is the unit that a working shows amounts in.
const currency = "$"

// Sources of the sums, as a working names them.
const (
	lineSource = "EN 16931 as used by Peppol, R120"
	taxSource  = "GST Act 1999 (Cth) s 9-90, total invoice rule; EN 16931 BR-CO-17"
	sumSource  = "EN 16931 BR-CO-10 to 16"
)

// Working shows every line, the tax of each category and rate, and the sums.
func (t Totals) Working() working.Steps {
	var steps working.Steps
	for i, line := range t.in.Lines {
		steps = addAmount(steps, fmt.Sprintf("line %d", i+1), line.formula(), t.Lines[i].Net, lineSource)
	}
	steps = addAmount(steps, "sum of lines", "lines as rounded, added", t.SumOfLines, sumSource)
	if len(t.in.Allowances)+len(t.in.Charges) > 0 {
		steps = addAmount(steps, "allowances on the whole bill", "added", t.SumAllowances, sumSource)
		steps = addAmount(steps, "charges on the whole bill", "added", t.SumCharges, sumSource)
	}
	without := "lines − allowances + charges"
	if t.in.Inclusive {
		without += " − the tax in them"
	}
	steps = addAmount(steps, "total without tax", without, t.TotalExcl, sumSource)
	for _, row := range t.Tax {
		steps = addAmount(steps, "tax, "+row.name(), row.formula(t.in.Inclusive), row.Tax, taxSource)
	}
	steps = addAmount(steps, "total with tax", t.TotalExcl.Shown()+" + "+t.TotalTax.Shown(), t.TotalIncl, sumSource)
	return addAmount(steps, "payable", fmt.Sprintf("%s − %s prepaid + %s rounding",
		t.TotalIncl.Shown(), t.Prepaid.Shown(), t.Rounding.Shown()), t.Payable, sumSource)
}

func addAmount(steps working.Steps, step, formula string, amount money.Cents, source string) working.Steps {
	return steps.Add(step, formula, working.Text(amount.Shown()), currency, source)
}

// formula writes the line as it was worked out, leaving out what it does not have.
func (l Line) formula() string {
	text := l.Quantity.String() + " × " + l.UnitPrice.String()
	if l.BaseQuantity != nil {
		text += " ÷ " + l.BaseQuantity.String()
	}
	if l.Charge.Sign() != 0 {
		text += " + " + l.Charge.Cents().Shown() + " charge"
	}
	if l.Allowance.Sign() != 0 {
		text += " − " + l.Allowance.Cents().Shown() + " allowance"
	}
	return text
}

func (r TaxRow) name() string { return r.TaxCategory + " " + r.TaxPercent.String() + " %" }

func (r TaxRow) formula(inclusive bool) string {
	if inclusive {
		return fmt.Sprintf("%s × %s ÷ (100 + %[2]s), once, out of the sum of its rounded lines", (r.Taxable + r.Tax).Shown(), r.TaxPercent)
	}
	return fmt.Sprintf("%s × %s %%, once on the sum of its rounded lines", r.Taxable.Shown(), r.TaxPercent)
}
