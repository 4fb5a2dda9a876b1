package machine

import (
	"errors"
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/working"
)

// RepairFactors says how the repairs and maintenance of a machine add up over its life.
type RepairFactors struct{ RF1, RF2 float64 }

// repairSource names the formula and its table in a working.
const repairSource = "ASABE D497.7 (2011), Table 3 (class factors from memory)"

// repairClasses are the classes of ASABE D497.7 (March 2011, reaffirmed 2020), Table 3.
// The factors are from memory; each comes within 3.3 points of the printed share of the
// list price over the estimated life, and six classes meet Iowa State PM 710, Table 3.
// "Row crop planter" is nearest to a shrub seeder; there is none for a mound former.
var repairClasses = []class[RepairFactors]{
	{"Tractor 2WD and stationary power unit", RepairFactors{0.007, 2.0}},
	{"Tractor 4WD and crawler", RepairFactors{0.003, 2.0}},
	{"Mouldboard plough", RepairFactors{0.29, 1.8}},
	{"Heavy-duty disk", RepairFactors{0.18, 1.7}},
	{"Tandem disk harrow", RepairFactors{0.18, 1.7}},
	{"Chisel plough (incl. coulter chisel)", RepairFactors{0.28, 1.4}},
	{"Field cultivator", RepairFactors{0.27, 1.4}},
	{"Spring tooth harrow", RepairFactors{0.27, 1.4}},
	{"Roller-packer", RepairFactors{0.16, 1.3}},
	{"Mulcher-packer", RepairFactors{0.16, 1.3}},
	{"Rotary hoe", RepairFactors{0.23, 1.4}},
	{"Row crop cultivator", RepairFactors{0.17, 2.2}},
	{"Rotary tiller", RepairFactors{0.36, 2.0}},
	{"Row crop planter", RepairFactors{0.32, 2.1}},
	{"Grain drill", RepairFactors{0.32, 2.1}},
	{"Combine (pull type)", RepairFactors{0.12, 2.3}},
	{"Combine (self-propelled)", RepairFactors{0.04, 2.1}},
	{"Mower (sickle)", RepairFactors{0.46, 1.7}},
	{"Mower (rotary)", RepairFactors{0.44, 2.0}},
	{"Mower-conditioner (sickle)", RepairFactors{0.18, 1.6}},
	{"Mower-conditioner (rotary)", RepairFactors{0.16, 2.0}},
	{"Windrower (self-propelled)", RepairFactors{0.06, 2.0}},
	{"Side delivery rake", RepairFactors{0.17, 1.4}},
	{"Rectangular baler", RepairFactors{0.23, 1.8}},
	{"Large rectangular baler", RepairFactors{0.1, 1.8}},
	{"Large round baler", RepairFactors{0.43, 1.8}},
	{"Forage harvester (pull type)", RepairFactors{0.15, 1.6}},
	{"Forage harvester (self-propelled)", RepairFactors{0.03, 2.0}},
	{"Fertilizer spreader", RepairFactors{0.63, 1.3}},
	{"Boom-type sprayer", RepairFactors{0.41, 1.3}},
	{"Air-carrier sprayer", RepairFactors{0.2, 1.6}},
	{"Beet topper / stalk chopper", RepairFactors{0.28, 1.4}},
	{"Forage wagon", RepairFactors{0.16, 1.6}},
	{"Wagon", RepairFactors{0.19, 1.3}},
}

// RepairClasses lists the machine classes that repair factors are known for.
func RepairClasses() []string { return namesOf(repairClasses) }

// AccumulatedPercent is what repairs and maintenance have cost up to a meter reading in
// hours, in per cent of the list price of a like new machine.
func (f RepairFactors) AccumulatedPercent(meterH float64) float64 {
	return 100 * f.RF1 * math.Pow(meterH/1000, f.RF2)
}

// RepairChoice is a class of machines or factors of the user's own.
type RepairChoice struct {
	MachineClass string   `json:"machine_class,omitempty"`
	RF1          *float64 `json:"rf1,omitempty"` // 0 to 10
	RF2          *float64 `json:"rf2,omitempty"` // 0 to 4
}

func (c RepairChoice) factors() (RepairFactors, error) {
	own := c.RF1 != nil || c.RF2 != nil
	switch {
	case own && c.MachineClass != "":
		return RepairFactors{}, fault.Refuse("machine_class", "a machine class and rf1, rf2 are both given, leave one out")
	case own && c.RF1 == nil:
		return RepairFactors{}, fault.Refuse("rf1", "rf1 is missing, give rf1 and rf2 together")
	case own && c.RF2 == nil:
		return RepairFactors{}, fault.Refuse("rf2", "rf2 is missing, give rf1 and rf2 together")
	case own:
		return RepairFactors{*c.RF1, *c.RF2}, errors.Join(within("rf1", *c.RF1, 0, 10), within("rf2", *c.RF2, 0, 4))
	case c.MachineClass == "":
		return RepairFactors{}, fault.Refuse("machine_class", "there is neither a machine class nor rf1 and rf2, enter one of them")
	}
	return factorsOf(repairClasses, c.MachineClass)
}

// RepairIn asks what repairs cost between two meter readings.
type RepairIn struct {
	RepairChoice
	ListPrice money.Factor `json:"list_price"` // of a like new machine today
	FromH     float64      `json:"from_h"`     // meter, 0 to 200,000
	ToH       float64      `json:"to_h"`       // meter, FromH or later
}

// Repair is what repairs and maintenance cost between two readings: later hours cost more.
type Repair struct {
	PercentFrom float64     `json:"accumulated_percent_from"` // of the list price
	PercentTo   float64     `json:"accumulated_percent_to"`
	Cost        money.Cents `json:"cost"`

	in      RepairIn
	factors RepairFactors
}

// RepairCost works out the repairs between two meter readings.
func RepairCost(in RepairIn) (Repair, error) {
	factors, err := in.factors()
	err = errors.Join(err, priced("list_price", in.ListPrice), within("from_h", in.FromH, 0, mostMeterH), within("to_h", in.ToH, 0, mostMeterH))
	if err != nil {
		return Repair{}, err
	}
	if in.ToH < in.FromH {
		return Repair{}, fault.Refuse("to_h", "the meter goes from %s h back to %s h, enter a later reading", plain(in.FromH), plain(in.ToH))
	}
	out := Repair{PercentFrom: factors.AccumulatedPercent(in.FromH), PercentTo: factors.AccumulatedPercent(in.ToH), in: in, factors: factors}
	if out.Cost, err = percentOf(in.ListPrice, out.PercentTo-out.PercentFrom).Amount(); err != nil {
		return Repair{}, fault.Refuse("to_h", "repairs come to too much: %v", err)
	}
	return out, nil
}

// Working shows both readings and the cost between them.
func (r Repair) Working() working.Steps {
	var steps working.Steps
	for _, at := range []struct{ h, percent float64 }{{r.in.FromH, r.PercentFrom}, {r.in.ToH, r.PercentTo}} {
		steps = steps.Add("repairs up to "+plain(at.h)+" h", "100 × "+plain(r.factors.RF1)+" × ("+plain(at.h)+" ÷ 1,000)^"+plain(r.factors.RF2),
			working.Number(at.percent, 2), "% of list price", repairSource)
	}
	return addAmount(steps, "repairs between", "list price "+r.in.ListPrice.String()+" × the difference", r.Cost, "$", "")
}
