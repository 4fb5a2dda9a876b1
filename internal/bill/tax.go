package bill

import (
	"slices"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// taxCategories in the order of the tax rows: S taxed at a rate, Z zero-rated (GST-free),
// E exempt (input taxed), O outside the tax (the seller is not registered), G exported.
// Codes of UN/CEFACT list 5305 as the A-NZ Peppol Guidance Note 11 v1.2 uses them.
const taxCategories = "SZEOG"

func (x Taxed) check() error {
	if len(x.TaxCategory) != 1 || !strings.Contains(taxCategories, x.TaxCategory) {
		return fault.Refuse("tax_category", "tax category is %q, enter S (taxed), Z (GST-free), E (input taxed), O (not registered) or G (export)", x.TaxCategory)
	}
	if x.TaxPercent.Sign() < 0 || !x.TaxPercent.Within(100) {
		return fault.Refuse("tax_percent", "tax is %s %%, enter a rate from 0 to 100", x.TaxPercent)
	}
	if x.TaxCategory != "S" && x.TaxPercent.Sign() != 0 {
		return fault.Refuse("tax_percent", "tax is %s %% in category %s, which bears none: enter 0, or category S", x.TaxPercent, x.TaxCategory)
	}
	return nil
}

// compare orders tax rows.
func (x Taxed) compare(y Taxed) int {
	if d := strings.Index(taxCategories, x.TaxCategory) - strings.Index(taxCategories, y.TaxCategory); d != 0 {
		return d
	}
	return x.TaxPercent.Compare(y.TaxPercent.Factor)
}

// taxable gathers what is taxed at each category and rate; 10 and 10.0 are one rate.
type taxable map[[2]string]*TaxRow

func (t taxable) add(x Taxed, amount money.Cents) {
	key := [2]string{x.TaxCategory, x.TaxPercent.String()}
	if t[key] == nil {
		t[key] = &TaxRow{Taxed: x}
	}
	t[key].Taxable += amount
}

// addExtras adds the bill's charges (sign 1) or allowances (sign -1) and returns their sum.
func (t taxable) addExtras(extras []Extra, sign money.Cents) money.Cents {
	var sum money.Cents
	for _, extra := range extras {
		amount := extra.Amount.Cents()
		sum += amount
		t.add(extra.Taxed, sign*amount)
	}
	return sum
}

// rows works out the tax of each category and rate, in order: on top of what was gathered,
// or out of it where prices include it.
func (t taxable) rows(inclusive bool) []TaxRow {
	var rows []TaxRow
	for _, row := range t {
		if inclusive {
			row.Taxable, row.Tax = money.SplitInclusive(row.Taxable, row.TaxPercent.Factor)
		} else {
			row.Tax = row.Taxable.Factor().Percent(row.TaxPercent.Factor).Cents()
		}
		rows = append(rows, *row)
	}
	slices.SortFunc(rows, func(a, b TaxRow) int { return a.Taxed.compare(b.Taxed) })
	return rows
}
