package store

import (
	"fmt"

	"rowtally/internal/bill"
	"rowtally/internal/money"
)

// addsUp tells where a paper's lines and totals part from what its quantities, prices and
// rates come to.
func addsUp(p bill.Paper) error {
	in := bill.TotalsIn{}
	for _, l := range p.Lines {
		in.Lines = append(in.Lines, bill.Line{Quantity: l.Quantity, UnitPrice: l.UnitPrice,
			Taxed: bill.Taxed{TaxCategory: l.TaxCategory, TaxPercent: money.Exact{Factor: l.TaxPercent}}})
	}
	totals, err := bill.WorkOut(in)
	if err != nil {
		return err
	}
	for i, l := range p.Lines {
		if net := totals.Lines[i].Net; net != l.Net {
			return fmt.Errorf("line %d says %s and comes to %s", i+1, l.Net, net)
		}
	}
	for _, c := range []struct {
		name       string
		says, come money.Cents
	}{{"total without tax", p.NetTotal, totals.TotalExcl}, {"tax", p.TaxTotal, totals.TotalTax}, {"total", p.Total, totals.TotalIncl}} {
		if c.says != c.come {
			return fmt.Errorf("the %s says %s and comes to %s", c.name, c.says, c.come)
		}
	}
	return nil
}
