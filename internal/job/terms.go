package job

import (
	"fmt"
	"slices"
	"strings"

	"rowtally/internal/bill"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// Terms are what a quote states beside its lines. The business has its own; a job may have
// others. The wording is the contractor's.
type Terms struct {
	JobID int64 // 0 for the business's own

	MinimumCharge    money.Factor // of a job, without tax; 0 for none
	GuardLowPercent  float64      // of a provisional quantity, 0 to 100
	GuardHighPercent float64      // 100 to 1000; 0 for no band
	StandbyFreeH     float64      // 0 to 100
	StandbyPerH      money.Factor // without tax; 0 where no standby is charged
	ExtraPerH        money.Factor // machine and operator, for work outside the lines, without tax; 0 for none
	DepositPercent   money.Factor // of the total with tax, 0 to 100
	WorkDays         float64      // at work in the paddock; 0 where none are told
	Supplies         string       // who supplies what
	Access           string       // what the farmer sees to
	Weather          string       // start, weather, stopping
	CleanDown        string
	NewerTest        string // what a newer germination test does
	Plants           string // what of plants is promised; "" for nothing, and the quote says so
	EstimateRestsOn  string // what an estimate takes for granted
	Other            string
}

// UsualTerms are those of a business that has not set its own. The band is the one in a
// municipal tender's general conditions of contract; the wording is ours, to be changed.
func UsualTerms() Terms {
	return Terms{
		GuardLowPercent: 85, GuardHighPercent: 115,
		Supplies:  "The contractor brings seed, bulking medium, machines and operator.",
		Access:    "Gates unlocked and wide enough, stock out of the paddock, weeds and old grass dealt with as agreed, and buried services shown before work begins.",
		Weather:   "Work waits while the ground is too wet to carry the machine, or wind, heat or lightning make it unsafe.",
		CleanDown: "Machines come clean and are cleaned down before they leave.",
		NewerTest: "A newer germination test before sowing changes how much seed is weighed, not the price of lines already agreed.",
	}
}

// conditions are the figures that an invoice under these terms is worked out by.
func (t Terms) conditions() bill.Conditions {
	return bill.Conditions{Minimum: t.MinimumCharge, GuardLowPercent: t.GuardLowPercent, GuardHighPercent: t.GuardHighPercent,
		StandbyFreeH: t.StandbyFreeH, DepositPercent: t.DepositPercent}
}

// addMinimum adds the line that brings a paper's charge up to the least one. It is
// taxed as the first taxed line is, else as the first line.
func addMinimum(p *bill.Paper, under bill.Conditions) error {
	if under.Minimum.Sign() == 0 {
		return nil
	}
	sums, err := p.AddUp()
	if err != nil {
		return err
	}
	lacks := under.Minimum.Minus(sums.SumOfLines.Factor())
	if lacks.Sign() <= 0 {
		return nil
	}
	lines := p.Counted()
	like := lines[max(0, slices.IndexFunc(lines, func(l bill.PaperLine) bool { return l.TaxCategory == "S" }))]
	p.Lines = append(p.Lines, bill.PaperLine{Position: len(p.Lines) + 1, Basis: bill.UpToMinimum, Unit: "each", Quantity: money.Whole(1),
		Description: fmt.Sprintf("Up to the least charge of a job, %s", under.Minimum.Cents().Shown()),
		UnitPrice:   lacks, TaxCategory: like.TaxCategory, TaxPercent: like.TaxPercent, TaxReason: like.TaxReason})
	return nil
}

// termsParticulars are what a priced quote states of its terms.
func (f Facts) termsParticulars(p bill.Paper) (list []bill.Particular) {
	t := f.Terms
	for _, one := range []bill.Particular{
		{Heading: "Provisional", Text: provisionalSays(p)},
		{Heading: "Not in the total", Text: optionsSay(p)},
		untaxedParticular(p),
		{Heading: "Supplied", Text: t.Supplies},
		{Heading: "Newer test", Text: t.testSays(f)},
		{Heading: seesTo, Text: t.Access},
		{Heading: "When", Text: t.whenSays(f.Job)},
		{Heading: "Standby", Text: t.standbySays(f.Business)},
		{Heading: "Other work", Text: t.extraSays(f.Business)},
		{Heading: cleanDown, Text: t.CleanDown},
		{Heading: "Least charge", Text: t.minimumSays(f.Business)},
		{Heading: "Deposit", Text: depositSays(p, f.Business)},
		{Heading: "To pay", Text: fmt.Sprintf("Each invoice falls due %s after its day of issue.", unit.Counted(f.Business.TermsDays, "day"))},
		t.plantsSay(f),
		{Heading: "Changes", Text: changesSay(p)},
		{Heading: "Also", Text: t.Other},
	} {
		if one.Text != "" {
			list = append(list, one)
		}
	}
	return list
}

func changesSay(p bill.Paper) string {
	if p.Kind == bill.Estimate {
		return ""
	}
	return "Until your yes this quote may be revised; the newest revision counts. What changes afterwards is a variation, with its own price and its own yes."
}

func optionsSay(p bill.Paper) string {
	if len(p.Options()) == 0 {
		return ""
	}
	return "Lines marked “if wanted” are done and billed only if your yes names them."
}

// testSays says what a newer test does, where the quote rests on any.
func (t Terms) testSays(f Facts) string {
	if f.Recipe == nil && f.Understorey == nil {
		return ""
	}
	return t.NewerTest
}

func (t Terms) whenSays(j Job) string {
	var parts []string
	if window := j.windowSays(); window != "" {
		parts = append(parts, window+".")
	}
	if t.WorkDays > 0 {
		parts = append(parts, fmt.Sprintf("About %s at work in the paddock.", days(t.WorkDays)))
	}
	return strings.Join(append(parts, t.Weather), " ")
}

// windowSays is the job's window in words; "" while none is told.
func (j Job) windowSays() string {
	switch {
	case j.WindowFrom != "" && j.WindowTo != "":
		return fmt.Sprintf("Between %s and %s", j.WindowFrom, j.WindowTo)
	case j.WindowFrom != "":
		return fmt.Sprintf("From %s on", j.WindowFrom)
	}
	return ""
}

func days(n float64) string {
	if n == 1 {
		return "1 day"
	}
	return unit.Plain(n) + " days"
}

func hoursSay(n float64) string {
	if n == 1 {
		return "1 h"
	}
	return unit.Plain(n) + " h"
}

func (t Terms) standbySays(b Business) string {
	if t.StandbyPerH.Sign() == 0 {
		return ""
	}
	says := "From your confirmed go, waiting for a locked gate, stock or ground not ready is charged"
	if t.StandbyFreeH > 0 {
		says += fmt.Sprintf(" after the first %s of the job", hoursSay(t.StandbyFreeH))
	}
	return fmt.Sprintf("%s at %s an hour%s.", says, b.priced(t.StandbyPerH), b.PricedSays())
}

func (t Terms) extraSays(b Business) string {
	if t.ExtraPerH.Sign() == 0 {
		return ""
	}
	return fmt.Sprintf("Stumps, rocks, fences, mounding again and whatever is not in the lines: %s an hour%s of machine and operator, agreed before it is begun.", b.priced(t.ExtraPerH), b.PricedSays())
}

func (t Terms) minimumSays(b Business) string {
	if t.MinimumCharge.Sign() == 0 {
		return ""
	}
	return fmt.Sprintf("A job is charged at %s%s at least, however little is measured.", b.Money(t.MinimumCharge.Cents()), b.PricedSays())
}

// depositSays states the share and the amount that is asked for with the yes.
func depositSays(p bill.Paper, b Business) string {
	percent := p.Conditions.DepositPercent
	if percent.Sign() == 0 || p.Kind == bill.Estimate {
		return ""
	}
	return fmt.Sprintf("%s %% of the total, %s, with the yes; it comes off the invoice.", percent, b.Money(p.Total.Factor().Percent(percent).Cents()))
}

// plantsSay states what is promised of plants, and that nothing is where nothing is.
func (t Terms) plantsSay(f Facts) bill.Particular {
	if t.Plants != "" {
		return bill.Particular{Heading: "Promised", Text: t.Plants}
	}
	if f.Rowless() {
		return bill.Particular{}
	}
	return bill.Particular{Heading: "Not promised", Text: "How many plants come up depends on rain, salt, water, mites and grazing, and is not part of this price."}
}

// priced writes a price by the hour.
func (b Business) priced(f money.Factor) string { return b.Price(f, max(2, f.Decimals())) }

// PricedSays stands behind a price as the business states them, where any tax is charged.
func (b Business) PricedSays() string {
	if !b.Registered {
		return ""
	}
	if b.PricesInclude {
		return " incl. " + b.TaxLabel
	}
	return " ex " + b.TaxLabel
}
