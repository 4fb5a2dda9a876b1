package machine

import (
	"math"
	"time"

	"rowtally/internal/unit"
)

// Machine is one machine with a meter. Meter time is kept in whole minutes.
type Machine struct {
	ID            int64
	Name          string
	Kind          string // "tractor", "mounder-seeder", "drill", "truck"
	Rows          int    // rows sown at once; 0 when it sows none
	RowGapM       float64
	HopperUsableL float64 // all hoppers together
	Hoppers       int     // filled at once, of equal size; 0 when not told
	WheelM        float64 // loaded wheel, one turn
	MeterMin      int64   // latest reading
	MeterOn       unit.Date
	ServiceDueMin int64 // reading at which service is due; 0 when not kept
	Note          string

	ServiceOn          unit.Date // day on which service is due, whatever the meter says; "" when not kept
	ServiceEveryMin    int64     // machine time from one service to the next; 0 when not told
	ServiceEveryMonths int       // from one service to the next; 0 when not told

	PulledByID int64 // machine that pulls or carries it; 0 when it goes by itself

	Pace

	Owning *Owning // what it costs to own and to run; nil while not entered
}

// HopperL is the usable litres of each hopper; of all together while their count is not told.
func (m Machine) HopperL() float64 { return m.HopperUsableL / float64(max(1, m.Hoppers)) }

// SownM is the width sown at once in m, half a gap beyond the outer rows on either side; 0
// while rows or gap are not told.
func (m Machine) SownM() float64 {
	return math.Round(float64(m.Rows)*m.RowGapM*1000) / 1000
}

// DaySheet is what one machine and operator did in one day on one job.
type DaySheet struct {
	ID           int64
	JobID        int64
	MachineID    int64
	Day          unit.Date
	MeterFromMin int64
	MeterToMin   int64
	RowM         float64 // row-metres sown, each row counted
	FuelML       int64
	StandbyMin   int64
	Placements   int64 // that the counter showed for the day, all rows together; 0 when it was not read
	Note         string
	EnteredAt    time.Time
	PersonID     int64
}

// RunMin is the machine time of the day in minutes.
func (d DaySheet) RunMin() int64 { return d.MeterToMin - d.MeterFromMin }
