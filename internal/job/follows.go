package job

import (
	"fmt"
	"slices"
	"strings"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// Quantities are what the lines of each basis are multiplied by. A basis that is not in it
// keeps the quantity of its line.
type Quantities map[bill.Basis]money.Factor

// quantityDecimals is how finely hectares, kilograms, litres and hours stand on a paper.
const quantityDecimals = 2

func quantityOf(v float64) money.Factor { return money.FactorOf(v, quantityDecimals) }

// PlannedQuantities are the quantities that a quote of these rates rests on: by the rows as laid, the
// recipe and the understorey as chosen. It refuses a basis whose figure the job has not yet.
func (f Facts) PlannedQuantities(rates []bill.Rate) (Quantities, error) {
	out := Quantities{}
	for _, rate := range rates {
		if _, done := out[rate.Basis]; done || rate.Basis.Entered() {
			continue
		}
		quantity, err := f.planned(rate.Basis)
		if err != nil {
			return nil, err
		}
		out[rate.Basis] = quantity
	}
	return out, nil
}

func (f Facts) planned(basis bill.Basis) (money.Factor, error) {
	if basis == bill.DrilledKg {
		worked, err := f.WorkUnderstorey()
		return quantityOf(worked.Kg), err
	}
	laid, err := f.Rows()
	if err != nil {
		return money.Factor{}, err
	}
	switch basis {
	case bill.RowKm:
		return RowKmOf(laid.RowM), nil
	case bill.AlleyHa:
		return quantityOf(laid.AlleyHa), nil
	}
	worked, err := f.WorkRecipe(laid.RowM)
	if err != nil {
		return money.Factor{}, err
	}
	if basis == bill.MixedL {
		return quantityOf(worked.Mix.MixL), nil
	}
	kg := 0.0
	for _, species := range worked.Mix.Species {
		for _, lot := range species.Lots {
			kg += lot.Kg
		}
	}
	return quantityOf(kg), nil
}

// DoneQuantities are the quantities that the invoice of an agreed quote rests on: the row-km that the
// log shows, what was weighed, mixed and loaded, and the hours of the day sheets. It refuses
// a basis of which nothing is entered yet.
func (f Facts) DoneQuantities(quote bill.Paper) (Quantities, error) {
	out := Quantities{}
	for _, line := range quote.Lines {
		if _, done := out[line.Basis]; done || !line.Basis.Provisional() {
			continue
		}
		quantity, err := f.done(line.Basis, quote.Conditions)
		if err != nil {
			return nil, err
		}
		out[line.Basis] = quantity
	}
	return out, nil
}

// doneSoFar are the quantities that a progress claim rests on: as DoneQuantities, with
// nothing of what is not entered yet but for the row-km, which it refuses then.
func (f Facts) doneSoFar(quote bill.Paper) (Quantities, error) {
	out := Quantities{}
	for _, line := range quote.Lines {
		if !line.Basis.Provisional() {
			continue
		}
		quantity, err := f.done(line.Basis, quote.Conditions)
		if err != nil && (line.Basis == bill.RowKm || fault.KindOf(err) == fault.Internal) {
			return nil, err
		}
		out[line.Basis] = quantity
	}
	return out, nil
}

func (f Facts) done(basis bill.Basis, under bill.Conditions) (money.Factor, error) {
	switch basis {
	case bill.RowKm:
		if f.Sown == nil {
			return money.Factor{}, fault.Conflict("Nothing is measured yet. Load the sown log, and the invoice follows the rows.")
		}
		return RowKmOf(f.Sown.CoveredM), nil
	case bill.MixedKg, bill.MixedL:
		if len(f.Tubs) == 0 {
			return money.Factor{}, fault.Conflict("No tub of this job is mixed yet, and a line of the quote is billed by what was mixed.")
		}
		g, ml := f.mixedAndKept()
		if basis == bill.MixedKg {
			return quantityOf(float64(g) / 1000), nil
		}
		return quantityOf(float64(ml) / 1000), nil
	case bill.DrilledKg:
		return f.drilledKg()
	}
	return f.hoursDone(basis, under)
}

// mixedAndKept are the seed in g and the mix in mL that went into tubs and did not come back.
func (f Facts) mixedAndKept() (g, ml int64) {
	for _, tub := range f.Tubs {
		ml += tub.MixML
		for _, in := range tub.Ingredient {
			g += in.Grams
		}
	}
	for _, c := range f.CleanOuts {
		if !c.Kept {
			continue
		}
		ml -= c.MixML
		for _, in := range c.Ingredient {
			g -= in.Grams
		}
	}
	return g, ml
}

func (f Facts) drilledKg() (money.Factor, error) {
	var g int64
	for _, load := range f.DrillLoads {
		g += load.Grams()
	}
	if g == 0 {
		return money.Factor{}, fault.Conflict("Nothing is loaded into the drill yet, and a line of the quote is billed by the kilograms drilled.")
	}
	return quantityOf(float64(g) / 1000), nil
}

// hoursDone are the hours of the day sheets: at the meter, or of standby beyond the free ones.
func (f Facts) hoursDone(basis bill.Basis, under bill.Conditions) (money.Factor, error) {
	if len(f.DaySheets) == 0 {
		return money.Factor{}, fault.Conflict("No day sheet is entered yet, and a line of the quote is billed by its hours.")
	}
	var run, standby int64
	for _, sheet := range f.DaySheets {
		run, standby = run+sheet.RunMin(), standby+sheet.StandbyMin
	}
	if basis == bill.MachineHours {
		return quantityOf(float64(run) / 60), nil
	}
	return quantityOf(max(0, float64(standby)/60-under.StandbyFreeH)), nil
}

// measuredHow says how the quantity of each provisional basis of a quote is measured, but
// for the row-km, which have a sentence of their own.
var measuredHow = map[bill.Basis]string{
	bill.MixedKg:      "kg of seed are those weighed into tubs, less what comes back at clean-outs",
	bill.MixedL:       "L of mix are those mixed, less what comes back at clean-outs",
	bill.DrilledKg:    "kg of understorey seed are those loaded into the drill",
	bill.MachineHours: "machine hours are those on the meter, by the day sheets",
	bill.StandbyHours: "standby hours are those on the day sheets beyond the free ones",
}

// provisionalSays states which quantities of a quote are provisional, how they are measured,
// and between which bounds the prices stand; "" where none is.
func provisionalSays(p bill.Paper) string {
	var how []string
	for _, line := range p.Lines {
		if says := measuredHow[line.Basis]; says != "" && !strings.Contains(strings.Join(how, "; "), says) {
			how = append(how, says)
		}
	}
	if !p.Provisional() {
		return ""
	}
	says := "Lines marked provisional are billed by what is measured, at the prices above"
	if len(how) > 0 {
		says += ": " + strings.Join(how, "; ")
	}
	says += "."
	if c := p.Conditions; c.GuardHighPercent > 0 {
		says += fmt.Sprintf(" Their prices stand from %s %% to %s %% of the quantity quoted; outside that either side may ask for a new price, by a variation with its own yes.",
			unit.Plain(c.GuardLowPercent), unit.Plain(c.GuardHighPercent))
	}
	return says
}

// outsideBand says of an invoice's lines which lie outside the band of the quote's; "" where
// none does.
func outsideBand(quote bill.Paper, lines []bill.PaperLine) string {
	band := quote.Conditions
	if band.GuardHighPercent == 0 {
		return ""
	}
	quoted := map[string]bill.PaperLine{}
	for _, l := range quote.Lines {
		quoted[l.Description] = l
	}
	var says []string
	for _, l := range lines {
		was := quoted[l.Description].Quantity
		if !l.Basis.Provisional() || was.Sign() == 0 {
			continue
		}
		percent := 100 * l.Quantity.Float() / was.Float()
		if percent < band.GuardLowPercent || percent > band.GuardHighPercent {
			says = append(says, fmt.Sprintf("%s: %s %s where %s were quoted, %s %% of it", l.Description, l.Quantity, l.Unit, was, unit.Grouped(percent, 1)))
		}
	}
	if len(says) == 0 {
		return ""
	}
	return fmt.Sprintf("%s. The quote's prices stand from %s %% to %s %%; they are billed as agreed, and either side may ask for another price.",
		strings.Join(says, "; "), unit.Plain(band.GuardLowPercent), unit.Plain(band.GuardHighPercent))
}

// chosenSays names the alternative and the optional lines that a yes chose; "" where the quote
// leaves nothing to choose.
func chosenSays(quote bill.Paper, yes bill.Acceptance) string {
	var with []string
	quote, err := quote.By(yes.Alternative)
	which := quote.Alternative
	if err != nil {
		return ""
	}
	if which != "" {
		which = "To alternative " + which + "."
	}
	for _, l := range quote.Options() {
		if slices.Contains(yes.Options, l.Position) {
			with = append(with, l.Description)
		}
	}
	switch {
	case len(quote.Options()) == 0:
		return which
	case len(with) == 0:
		return strings.TrimSpace(which + " Without the lines that were there if wanted.")
	}
	return strings.TrimSpace(which + " With " + listed(with) + ".")
}
