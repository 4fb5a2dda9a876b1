package job

import (
	"errors"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/seed"
)

// Costing is what a job costs beyond what its other facts hold: hours, the way there, other
// people's work, and what is set aside to sow again. What was really done stands beside what
// is planned; nil while nothing is told of it.
type Costing struct {
	JobID    int64
	Machines []MachineHours

	HandH     money.Factor  // planned hours of hands beyond the machine hours: mixing, calibrating, walking
	HandDoneH *money.Factor // as worked

	FloatKm           money.Factor  // driven km of the truck and float, out and back, before it is shared
	FloatDoneKm       *money.Factor // as driven
	FloatSharePercent money.Factor  // that this job bears of the way, above 0 to 100
	FloatShareWhy     string        // how it is shared with the neighbours; "" when it is not

	Others []OthersWork

	ResowPercent money.Factor // of seed, medium, machines and hands, set aside to sow again; 0 to 100
	ResowWhy     string
}

// MachineHours is how long one machine is planned to run for a job.
type MachineHours struct {
	MachineID int64
	Hours     money.Factor
}

// OthersWork is a line of other people's work: spraying, cultivation, a hired float.
type OthersWork struct {
	What      string
	Quantity  money.Factor
	Unit      string
	UnitPrice money.Factor  // without tax
	Billed    *money.Factor // what they really billed for it, without tax; nil while they have not
}

// CostRates are the business's own settings for what a job costs; 0 where none is set.
type CostRates struct {
	LabourPerH       money.Factor // of hands, with leave and superannuation
	FloatPerKm       money.Factor // of a driven km of truck and float
	OverheadPercent  money.Factor // of all other costs of a job
	OverheadPerRowKm money.Factor // beside it or instead of it
}

// CostFacts is what only the cost of a job asks for.
type CostFacts struct {
	Costing    *Costing // nil while nothing is entered
	Rates      CostRates
	Inoculants []seed.Inoculant // of the shed, with their prices
	Plans      map[int64]Cost   // as frozen with each quote, by the quote's number in the store
}

var hundredPercent = money.Whole(100)

// Check refuses what cannot be: shares and allowances outside 0 to 100 %, those that keep no
// reason, and lines that say nothing. Fields are named as the struct has them, in small
// letters with underscores.
func (c Costing) Check() error {
	errs := []error{
		percentFrom("resow_percent", c.ResowPercent), needsReason("resow_why", c.ResowPercent.Sign() > 0 && c.ResowWhy == "", "the allowance to sow again keeps its reason, enter why it may be needed"),
		percentFrom("float_share_percent", c.FloatSharePercent),
		needsReason("float_share_percent", c.FloatKm.Sign() > 0 && c.FloatSharePercent.Sign() == 0, "the way is driven and no share of it is borne, enter 100 for all of it"),
		needsReason("float_share_why", c.shared() && c.FloatShareWhy == "", "a way that is shared keeps how it is shared, enter which jobs bear the rest"),
	}
	return errors.Join(errs...)
}

// shared tells whether other jobs bear part of the way.
func (c Costing) shared() bool {
	return c.FloatKm.Sign() > 0 && c.FloatSharePercent.Compare(hundredPercent) < 0
}

func percentFrom(field string, f money.Factor) error {
	if f.Sign() >= 0 && f.Compare(hundredPercent) <= 0 {
		return nil
	}
	return fault.Refuse(field, "%s %% is outside what is possible, enter a figure from 0 to 100", f)
}

func needsReason(field string, lacks bool, sentence string) error {
	if !lacks {
		return nil
	}
	return fault.Refuse(field, "%s", sentence)
}
