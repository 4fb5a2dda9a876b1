package machine

import (
	"errors"
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/working"
)

// WearCurve holds the coefficients of a machine class's remaining value: what a new
// machine loses at once (1 − C1), with the root of its age in years (C2) and with the
// root of its yearly hours (C3).
type WearCurve struct{ C1, C2, C3 float64 }

// remainingSource names the formula and its table in a working.
const remainingSource = "ASABE D497.7 (2011), Table 4 (class coefficients from memory)"

// wearCurves are the classes of ASABE D497.7 (2011), Table 4 (after Cross and Perry 1995).
// The coefficients are from memory; Iowa State PM 710, Table 1a confirms the tractors.
var wearCurves = []class[WearCurve]{
	{"Farm tractor small (<60 kW / 80 hp)", WearCurve{0.981, 0.093, 0.0058}},
	{"Farm tractor medium (60-112 kW / 80-150 hp)", WearCurve{0.942, 0.100, 0.0008}},
	{"Farm tractor large (>112 kW / 150 hp)", WearCurve{0.976, 0.119, 0.0019}},
	{"Combine", WearCurve{1.132, 0.165, 0.0079}},
	{"Mower", WearCurve{0.756, 0.067, 0}},
	{"Baler", WearCurve{0.852, 0.101, 0}},
	{"Swather and all other harvest equipment", WearCurve{0.791, 0.091, 0}},
	{"Plough", WearCurve{0.738, 0.051, 0}},
	{"Disk and all other tillage equipment", WearCurve{0.891, 0.110, 0}},
	{"Skid steer loader and all other vehicles", WearCurve{0.786, 0.063, 0.0033}},
	{"Planter / grain drill", WearCurve{0.883, 0.0787, 0}},
	{"Manure spreader and all other miscellaneous", WearCurve{0.943, 0.111, 0}},
}

// RemainingClasses lists the machine classes that a remaining value is known for.
func RemainingClasses() []string { return namesOf(wearCurves) }

// PercentOfList is the remaining value in per cent of the list price of a like new
// machine, at an age in years with a yearly average of hours. Where the curve's root
// comes to nothing the value is 0 and stays there: the square must not rise again.
func (w WearCurve) PercentOfList(ageYears, annualHours float64) float64 {
	root := max(0, w.C1-w.C2*math.Sqrt(ageYears)-w.C3*math.Sqrt(annualHours))
	return 100 * root * root
}

// RemainingIn asks what a machine is worth at an age. Either a class or all of c1, c2
// and c3 are given.
type RemainingIn struct {
	MachineClass string        `json:"machine_class,omitempty"`
	C1           *float64      `json:"c1,omitempty"`
	C2           *float64      `json:"c2,omitempty"`
	C3           *float64      `json:"c3,omitempty"`
	AgeYears     float64       `json:"age_years"`            // 0 to 100
	AnnualHours  float64       `json:"annual_hours"`         // yearly average, not the meter; 0 to 8784
	ListPrice    *money.Factor `json:"list_price,omitempty"` // of a like new machine today, not what was paid
}

// Remaining is what a machine is still worth.
type Remaining struct {
	PercentOfList float64      `json:"percent_of_list"`
	Value         *money.Cents `json:"value,omitempty"` // with a list price

	in    RemainingIn
	curve WearCurve
}

// RemainingValue works out a remaining value, from 0 and never rising with age.
func RemainingValue(in RemainingIn) (Remaining, error) {
	curve, err := in.curve()
	err = errors.Join(err, within("age_years", in.AgeYears, 0, mostYears), within("annual_hours", in.AnnualHours, 0, mostYearlyHours))
	if in.ListPrice != nil {
		err = errors.Join(err, priced("list_price", *in.ListPrice))
	}
	if err != nil {
		return Remaining{}, err
	}
	out := Remaining{PercentOfList: curve.PercentOfList(in.AgeYears, in.AnnualHours), in: in, curve: curve}
	if in.ListPrice != nil {
		value := percentOf(*in.ListPrice, out.PercentOfList).Cents()
		out.Value = &value
	}
	return out, nil
}

func (in RemainingIn) curve() (WearCurve, error) {
	own := in.C1 != nil || in.C2 != nil || in.C3 != nil
	switch {
	case own && in.MachineClass != "":
		return WearCurve{}, fault.Refuse("machine_class", "a machine class and c1, c2, c3 are both given, leave one out")
	case own:
		return in.ownCurve()
	case in.MachineClass == "":
		return WearCurve{}, fault.Refuse("machine_class", "there is neither a machine class nor c1, c2 and c3, enter one of them")
	}
	return factorsOf(wearCurves, in.MachineClass)
}

// ownCurve takes coefficients of the user's own; C2 and C3 are never negative, or the
// value would rise with age or hours.
func (in RemainingIn) ownCurve() (WearCurve, error) {
	var errs []error
	var own [3]float64
	for i, c := range []struct {
		field string
		v     *float64
	}{{"c1", in.C1}, {"c2", in.C2}, {"c3", in.C3}} {
		if c.v == nil {
			errs = append(errs, fault.Refuse(c.field, "%s is missing, give c1, c2 and c3 together", c.field))
			continue
		}
		own[i] = *c.v
		errs = append(errs, within(c.field, *c.v, 0, 10))
	}
	return WearCurve{own[0], own[1], own[2]}, errors.Join(errs...)
}

// Working shows the curve and the value it gives.
func (r Remaining) Working() working.Steps {
	var steps working.Steps
	steps = steps.Add("remaining value", "100 × ("+plain(r.curve.C1)+" − "+plain(r.curve.C2)+" × √age − "+plain(r.curve.C3)+" × √yearly hours)², never below 0, at "+
		plain(r.in.AgeYears)+" years and "+plain(r.in.AnnualHours)+" h a year", working.Number(r.PercentOfList, 2), "% of list price", remainingSource)
	if r.Value != nil {
		steps = addAmount(steps, "value", "list price "+r.in.ListPrice.String()+" × remaining value", *r.Value, "$", "")
	}
	return steps
}
