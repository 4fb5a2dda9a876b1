package job

import (
	"fmt"
	"strings"

	"rowtally/internal/bill"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// EstimateDraft is an estimate as it would be issued now: the lines of a quote, which bind
// neither side and cannot be agreed to. It refuses what QuoteDraft does.
func EstimateDraft(f Facts) (bill.Paper, error) {
	p, err := f.offer(bill.Estimate)
	if err != nil {
		return p, err
	}
	first := []bill.Particular{
		{Heading: "An estimate", Text: "This is no quote. It binds neither side, it cannot be agreed to, and what is billed may come to more or less. A quote follows once what is taken for granted here is known."},
		{Heading: "Taken for granted", Text: f.grantedSays()},
	}
	rangeSays, err := f.rangeSays(p)
	if err != nil {
		return p, err
	}
	if rangeSays != "" {
		first = append(first, bill.Particular{Heading: "It may come to", Text: rangeSays})
	}
	p.Particulars = append(first, p.Particulars...)
	return p, nil
}

// grantedSays is what the job's facts do not hold yet, and what the contractor adds to it.
func (f Facts) grantedSays() string {
	var open []string
	if f.Job.VisitedOn == "" {
		open = append(open, "nobody has looked at the paddock yet")
	}
	if f.Layout != nil && f.Recipe == nil {
		open = append(open, "the seed lots are not chosen yet")
	}
	if f.Job.WindowFrom == "" {
		open = append(open, "no days are set")
	}
	says := "The rows and quantities as planned can be sown."
	if len(open) > 0 {
		says = sentenceCase(listed(open)) + ". " + says
	}
	return strings.TrimSpace(says + " " + f.Terms.EstimateRestsOn)
}

// rangeSays is what the total comes to at both ends of the band of its provisional
// quantities; "" where there is no band or nothing provisional.
func (f Facts) rangeSays(p bill.Paper) (string, error) {
	c := p.Conditions
	if c.GuardHighPercent == 0 || !p.Provisional() {
		return "", nil
	}
	var ends [2]money.Cents
	for i, percent := range []float64{c.GuardLowPercent, c.GuardHighPercent} {
		end := p
		end.Lines = nil
		for _, l := range p.Lines {
			if l.Basis.Provisional() {
				l.Quantity = l.Quantity.Percent(money.FactorOf(percent, 4))
			}
			if l.Basis != bill.UpToMinimum {
				end.Lines = append(end.Lines, l)
			}
		}
		if err := addMinimum(&end, c); err != nil {
			return "", err
		}
		if _, err := end.AddUp(); err != nil {
			return "", err
		}
		ends[i] = end.Total
	}
	return fmt.Sprintf("%s where %s %% of the provisional quantities are measured, %s where %s %% are.",
		f.Business.Money(ends[0]), unit.Plain(c.GuardLowPercent), f.Business.Money(ends[1]), unit.Plain(c.GuardHighPercent)), nil
}
