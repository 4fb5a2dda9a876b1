package machine

import (
	"rowtally/internal/money"
	"rowtally/internal/working"
)

// ownershipSource names the rule in a working.
const ownershipSource = "ownership cost as Iowa State A3-29 works it out"

// Working shows which figures are the machine's own, what is owned, what is used up, and
// the hour that they come to.
func (h Hour) Working() working.Steps {
	var steps working.Steps
	for _, taken := range h.Taken {
		steps = taken.step(steps)
	}
	steps = h.ownershipSteps(steps)
	steps = h.runningSteps(steps)
	return addAmount(steps, "machine hour", "ownership + repair + fuel + lubrication + labour", h.TotalPerH, perHour, "")
}

const (
	perHour = "$/h"
	perYear = "$ a year"
)

func (h Hour) ownershipSteps(steps working.Steps) working.Steps {
	in := h.in
	steps = steps.Add("remaining value", "when "+plain(in.KeepYears)+" years are over", working.Number(h.known.endPercent, 2), "% of list price", in.Remaining.source())
	steps = addAmount(steps, "end value", "list price "+in.ListPrice.String()+" × remaining value", h.EndValue, "$", "")
	steps = steps.Add("capital recovery factor", plain(in.InterestPercent)+" % over "+plain(in.KeepYears)+" years", working.Number(h.recovery.Factor, 6), "per year", recoverySource)
	steps = addAmount(steps, "capital recovery", "(purchase price "+in.PurchasePrice.String()+" − end value) × factor + end value × "+plain(in.InterestPercent)+" %", h.CapitalRecoveryPerYear, perYear, recoverySource)
	steps = addAmount(steps, "taxes, insurance, housing", plain(in.TIHPercent)+" % of the average of purchase price and end value", h.TIHPerYear, perYear, ownershipSource)
	return addAmount(steps, "ownership", "both ÷ "+plain(in.AnnualHours)+" h a year", h.OwnershipPerH, perHour, ownershipSource)
}

func (h Hour) runningSteps(steps working.Steps) working.Steps {
	in := h.in
	steps = steps.Add("repairs of the coming year", "from "+plain(in.MeterH)+" h on the meter over "+plain(in.AnnualHours)+" h", working.Number(h.known.repairPercent, 2), "% of list price", repairSource)
	steps = addAmount(steps, "repair", "list price "+in.ListPrice.String()+" × repairs ÷ "+plain(in.AnnualHours)+" h", h.RepairPerH, perHour, repairSource)
	steps = addAmount(steps, "fuel", plain(h.known.fuelLPerH)+" L/h × ("+in.FuelPricePerL.String()+" − "+in.FuelCreditPerL.String()+" credit)", h.FuelPerH, perHour, in.Fuel.source())
	steps = addAmount(steps, "lubrication", plain(h.known.lubricationPercent)+" % of fuel", h.LubricationPerH, perHour, "extension practice (from memory)")
	return addAmount(steps, "labour", in.LabourPerH.String()+" × "+plain(h.known.labourHours)+" labour hours", h.LabourPerH, perHour, "")
}

// addAmount adds a step whose value is money.
func addAmount(steps working.Steps, step, formula string, amount money.Cents, unit, source string) working.Steps {
	return steps.Add(step, formula, working.Text(amount.Shown()), unit, source)
}
