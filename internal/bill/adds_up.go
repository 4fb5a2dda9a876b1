package bill

import (
	"fmt"

	"rowtally/internal/money"
)

// AddsUp tells where a paper's lines and totals part from what its quantities, prices and
// rates come to; nil where they do not.
func (p Paper) AddsUp() error {
	if p.Kind == Adjustment {
		return p.adjustmentAddsUp()
	}
	totals, err := p.linesAddUp(p.Counted())
	if err != nil {
		return err
	}
	if err := p.alternativesAddUp(); err != nil {
		return err
	}
	if len(p.Options()) > 0 {
		if _, err := p.linesAddUp(p.Options()); err != nil {
			return err
		}
	}
	return p.says(totals.TotalExcl, totals.TotalTax, totals.TotalIncl)
}

func (p Paper) adjustmentAddsUp() error {
	was, err := p.linesAddUp(p.WasLines())
	if err != nil {
		return err
	}
	now, err := p.linesAddUp(p.NowLines())
	if err != nil {
		return err
	}
	return p.says(now.TotalExcl-was.TotalExcl, now.TotalTax-was.TotalTax, now.TotalIncl-was.TotalIncl)
}

func (p Paper) linesAddUp(lines []PaperLine) (Totals, error) {
	totals, err := TotalsOf(lines, p.Inclusive)
	if err != nil {
		return totals, err
	}
	for i, l := range lines {
		if net := totals.Lines[i].Net; net != l.Net {
			return totals, fmt.Errorf("line %d says %s and comes to %s", max(l.Position, i+1), l.Net, net)
		}
	}
	return totals, nil
}

func (p Paper) says(net, tax, total money.Cents) error {
	for _, c := range []struct {
		name       string
		says, come money.Cents
	}{{"total without tax", p.NetTotal, net}, {"tax", p.TaxTotal, tax}, {"total", p.Total, total}} {
		if c.says != c.come {
			return fmt.Errorf("the %s says %s and comes to %s", c.name, c.says, c.come)
		}
	}
	return nil
}
