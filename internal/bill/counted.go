package bill

import (
	"errors"

	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// line is a paper's line as bills are worked out from.
func (l PaperLine) line() Line {
	return Line{Quantity: l.Quantity, UnitPrice: l.UnitPrice, Taxed: Taxed{l.TaxCategory, money.Exact{Factor: l.TaxPercent}}}
}

// TotalsOf works out lines of a paper, every one counted, whose prices are without tax or
// include it.
func TotalsOf(lines []PaperLine, inclusive bool) (Totals, error) {
	in := TotalsIn{Inclusive: inclusive}
	for _, l := range lines {
		in.Lines = append(in.Lines, l.line())
	}
	return WorkOut(in)
}

// Counted are the lines that the paper's totals are made of: optional ones are left out.
func (p Paper) Counted() []PaperLine {
	var counted []PaperLine
	for _, l := range p.Lines {
		if !l.Optional {
			counted = append(counted, l)
		}
	}
	return counted
}

// Options are the lines that the farmer may add with the yes.
func (p Paper) Options() []PaperLine {
	var options []PaperLine
	for _, l := range p.Lines {
		if l.Optional {
			options = append(options, l)
		}
	}
	return options
}

// AddUp prices the paper's lines in place and puts its totals in, by the one rule of WorkOut.
// A paper of optional lines alone is refused, as one without lines is.
func (p *Paper) AddUp() (Totals, error) {
	for i := range p.Lines {
		line := p.Lines[i].line()
		net, err := line.Net()
		if err := errors.Join(line.check(), err); err != nil {
			return Totals{}, fault.Under(at("lines", i), err)
		}
		p.Lines[i].Net = net
	}
	sums, err := TotalsOf(p.Counted(), p.Inclusive)
	if err == nil {
		p.NetTotal, p.TaxTotal, p.Total = sums.TotalExcl, sums.TotalTax, sums.TotalIncl
	}
	return sums, err
}
