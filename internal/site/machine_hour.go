package site

import (
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/machine"
	"rowtally/internal/money"
)

// machineHour is what one hour of a machine costs, as its page shows it.
type machineHour struct {
	Cannot string // why no hour is worked out; "" when it is
	Hour   machine.Hour
	Cost   string // of the hour, with its currency
	Taken  []string
	Fuel   string // what a litre costs; "" when none is burnt

	Team  []machine.Machine // this one and what pulls it, the puller first; nil when it works alone
	Parts []hourPart
	Pulls []pulledHour
}

// hourPart is one part of an hour, for each machine of the team and for all together.
type hourPart struct {
	Label    string
	Of       []money.Cents
	Together money.Cents
	Sum      bool
}

// pulledHour is what an hour costs together with one machine that this one pulls.
type pulledHour struct {
	Machine machine.Machine
	Cost    string // "" while it cannot be worked out
}

// hourOf works out the machine's hour, alone and with what it works with.
func hourOf(r *request, y job.Yard, m machine.Machine) machineHour {
	var out machineHour
	hour, err := y.HourCost(m, r.today())
	if err != nil {
		out.Cannot = whyNot(err)
		return out
	}
	out.Hour, out.Cost = hour, r.business.Money(hour.TotalPerH)
	for _, taken := range hour.Taken {
		if taken.Value == 0 {
			continue // it burns no fuel
		}
		out.Taken = append(out.Taken, sentence(taken.Says()))
	}
	if hour.FuelPerH > 0 {
		out.Fuel = fuelSays(r, hour.FuelPrice())
	}
	out.join(r, y, m)
	return out
}

// join sets the hours of the machines beside each other that work together.
func (out *machineHour) join(r *request, y job.Yard, m machine.Machine) {
	hours := []machine.Hour{out.Hour}
	if team := y.Team(m); len(team) > 1 {
		by, err := y.HourCost(team[0], r.today())
		if err == nil {
			out.Team, hours = team, []machine.Hour{by, out.Hour}
		}
	}
	out.Parts = hourParts(hours)
	for _, pulled := range y.Machines {
		if pulled.PulledByID != m.ID {
			continue
		}
		line := pulledHour{Machine: pulled}
		if hour, err := y.HourCost(pulled, r.today()); err == nil {
			both, _ := machine.Together(out.Hour, hour)
			line.Cost = r.business.Money(both.TotalPerH)
		}
		out.Pulls = append(out.Pulls, line)
	}
}

func hourParts(hours []machine.Hour) []hourPart {
	parts := []hourPart{{Label: "ownership"}, {Label: "repair"}, {Label: "fuel, less the credit"}, {Label: "lubrication"}, {Label: "labour"}, {Label: "an hour", Sum: true}}
	for _, h := range hours {
		for i, c := range []money.Cents{h.OwnershipPerH, h.RepairPerH, h.FuelPerH, h.LubricationPerH, h.LabourPerH, h.TotalPerH} {
			parts[i].Of = append(parts[i].Of, c)
			parts[i].Together += c
		}
	}
	return parts
}

// whyNot is the first sentence of a refusal, for a page that asks for nothing.
func whyNot(err error) string {
	for _, says := range fault.Fields(err) {
		return sentence(says)
	}
	return sentence(err.Error())
}
