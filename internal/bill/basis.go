package bill

import "slices"

// Basis tells what a line's quantity follows.
type Basis string

const (
	Fixed        Basis = "fixed"      // the quantity as entered, quoted and billed alike
	RowKm        Basis = "row-km"     // provisional on the quote, the measured row-km on the invoice
	AlleyHa      Basis = "alley ha"   // net hectares between the belts, as laid; billed as quoted
	MixedKg      Basis = "kg mixed"   // seed of the recipe; billed by what was weighed into tubs and not taken back
	MixedL       Basis = "L mixed"    // finished mix; billed by what was mixed and not taken back
	DrilledKg    Basis = "kg drilled" // seed of the understorey; billed by what went into the drill
	MachineHours Basis = "machine h"  // as entered on the quote, the meter hours of the day sheets on the invoice
	StandbyHours Basis = "standby h"  // as entered on the quote, the standby beyond the free hours on the invoice
	UpToMinimum  Basis = "minimum"    // what a job's charge lacks to the least one; nobody enters it
)

// followed is each basis whose quantity is provisional, with the unit that it is priced by.
var followed = map[Basis]string{RowKm: "row-km", MixedKg: "kg", MixedL: "L", DrilledKg: "kg", MachineHours: "h", StandbyHours: "h"}

// Provisional tells whether the invoice's quantity is a measured one.
func (b Basis) Provisional() bool { return followed[b] != "" }

// PricedBy is the only unit that a line of the basis may be priced by; "" for any.
func (b Basis) PricedBy() string {
	if b == AlleyHa {
		return "ha"
	}
	return followed[b]
}

// Entered tells whether a quote's quantity is what a person entered.
func (b Basis) Entered() bool { return b == Fixed || b == MachineHours || b == StandbyHours }

// Provisional tells whether a quantity of the paper is to be measured yet.
func (p Paper) Provisional() bool {
	return slices.ContainsFunc(p.Lines, func(l PaperLine) bool { return l.Basis.Provisional() })
}
