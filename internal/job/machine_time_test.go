package job

import (
	"math"
	"strings"
	"testing"

	"rowtally/internal/machine"
	"rowtally/internal/money"
)

// twoMachines are a tractor and a seeder that cost what plainTractor does; sheets of 50 h
// count as enough.
func twoMachines() (tractor, seeder machine.Machine) {
	tractor = plainTractor().Machines[0]
	seeder = tractor
	owning := *seeder.Owning
	owning.MachineID, owning.EnoughH = 8, 50
	tractor.ID, seeder.ID, seeder.Name, seeder.Owning = 7, 8, "seeder", &owning
	return tractor, seeder
}

// paced is the costed scene with a twin-row seeder at 5 km/h, turns of 40 s and 18 min to fill
// a tub, pulled by plainTractor.
func paced(t testing.TB) Facts {
	t.Helper()
	f := costed(t)
	turn, fill := 40.0, 18.0
	tractor, seeder := twoMachines()
	f.Yard = plainTractor()
	seeder.Rows, seeder.PulledByID, seeder.Pace = 2, 7, machine.Pace{SpeedKmh: 5, TurnS: &turn, FillMin: &fill}
	f.Yard.Machines, f.Sower = []machine.Machine{tractor, seeder}, &seeder
	return f
}

// A layout that tells speed, turns and an efficiency besides them stands before the machine's
// page; stops to fill are within that efficiency and not counted again. By hand of the plan:
// driven ÷ speed + passes × turn, over the efficiency.
func TestTheLayoutsSpeedStandsBeforeTheMachines(t *testing.T) {
	f := paced(t)
	f.Layout.SpeedKmh, f.Layout.TurnS, f.Layout.OtherEfficiencyPercent = 6, 25, 80
	laid, err := f.Rows()
	if err != nil {
		t.Fatal(err)
	}
	want := (laid.DrivenM/6000 + float64(laid.Passes)*25/3600) / 0.8
	if got := f.MachineTime(); math.Abs(got.WholeH-want) > 1e-9 || got.By != "the speed told with the rows" || got.Set.FillS != 0 {
		t.Errorf("%v h by %s, want %v", got.WholeH, got.By, want)
	}
	f.Layout.OtherEfficiencyPercent = 0
	want = laid.DrivenM/6000 + float64(laid.Passes)*25/3600 + laid.RowM/f.tubRowM(*f.Layout)*18/60
	if got := f.MachineTime(); math.Abs(got.WholeH-want) > 1e-9 {
		t.Errorf("with stops to fill %v h, want %v", got.WholeH, want)
	}
	all := 65.0
	f.Sower.Pace = machine.Pace{SpeedKmh: 5, EfficiencyPercent: &all}
	f.Layout.TurnS = 0
	want = laid.DrivenM / 6000 / 0.65
	if got := f.MachineTime(); math.Abs(got.WholeH-want) > 1e-9 {
		t.Errorf("with an efficiency in all %v h, want %v", got.WholeH, want)
	}
	f.Sower = nil
	if got := f.MachineTime(); got.Cannot != "" || math.Abs(got.WholeH-laid.DrivenM/6000) > 1e-9 {
		t.Errorf("nobody named to sow: %v h, %q", got.WholeH, got.Cannot)
	}
}

// A machine of one row goes over a belt of two twice.
func TestANarrowSowerGoesOverABeltTwice(t *testing.T) {
	f := paced(t)
	f.Sower.FillMin = nil
	wide := f.MachineTime().WholeH
	f.Sower.Rows = 1
	if got := f.MachineTime().WholeH; math.Abs(got-2*wide) > 1e-9 {
		t.Errorf("%v h with one row, %v with two", got, wide)
	}
}

// Headland passes take their time too, counted in the row-km or not.
func TestHeadlandPassesTakeTime(t *testing.T) {
	f := paced(t)
	f.Sower.FillMin = nil
	f.Layout.HeadlandPasses = 1
	laid, err := f.Rows()
	if err != nil || laid.HeadlandRowM <= 0 {
		t.Fatalf("%v m round the headland, %v", laid.HeadlandRowM, err)
	}
	want := (laid.DrivenM+laid.HeadlandRowM/2)/5000 + float64(laid.Passes+laid.HeadlandLaps)*40/3600
	uncounted := f.MachineTime().WholeH
	f.Layout.CountHeadlands = true
	if counted := f.MachineTime().WholeH; math.Abs(uncounted-want) > 1e-9 || math.Abs(counted-want) > 1e-9 {
		t.Errorf("%v h uncounted, %v counted, want %v", uncounted, counted, want)
	}
}

// Without hours entered, sower and tractor stand in the plan at the hours of the rows; hours
// entered for either stand in their place and say so.
func TestPlannedHoursFlowIntoTheCost(t *testing.T) {
	f := paced(t)
	time := f.MachineTime()
	c, err := CostOf(f)
	if err != nil {
		t.Fatal(err)
	}
	var found []string
	for _, l := range c.Lines {
		if l.Kind == MachineCost {
			found = append(found, l.What)
			if math.Abs(l.Quantity.Float()-time.WholeH) > 1e-3 || !strings.Contains(l.Source, "hours that the rows take by the seeder’s speed, turns and stops") {
				t.Errorf("%s: %s h from %q, want %v", l.What, l.Quantity, l.Source, time.WholeH)
			}
		}
	}
	if len(found) != 2 {
		t.Errorf("machines %q, leaves out %q", found, c.LeftOut)
	}
	f.Costs.Costing.Machines = []MachineHours{{7, money.MustFactor("9")}}
	runs := f.PlannedRuns()
	if len(runs) != 1 || !runs[0].Typed || runs[0].Hours != 9 || !strings.Contains(runs[0].From, "as entered in the place of") {
		t.Errorf("with hours entered: %+v", runs)
	}
	f.Yard.Sheets = sheetsOf([2]float64{30, 60}, [2]float64{30, 66})
	for i := range f.Yard.Sheets {
		f.Yard.Sheets[i].MachineID = 8
	}
	if says := f.MachineTime().Says(); !strings.Contains(says, "by the seeder’s own day sheets; by speed and turns it would be") {
		t.Errorf("says %q", says)
	}
}

// What agreed jobs still take stands on the season, and a service that falls within it.
func TestTheHoursToComeOfASeason(t *testing.T) {
	f := paced(t)
	f = f.quoted(t, 1, today).agreed(1, today)
	tractor := f.Yard.Machines[0]
	tractor.MeterMin, tractor.ServiceDueMin = 1000*60, 1000*60+60
	s := SeasonOf([]Facts{f, sceneOf(t, 10)}, f.Shelf, []machine.Machine{tractor}, today)
	want := f.MachineTime().Hours
	if len(s.Ahead) != 1 || len(s.Ahead[0].Jobs) != 1 || math.Abs(s.Ahead[0].Hours-want) > 1e-9 || !strings.Contains(s.Ahead[0].Says(), "1 job") {
		t.Fatalf("%+v", s.Ahead)
	}
	said := false
	for _, l := range s.Lines {
		said = said || l.What == "Service" && strings.Contains(l.Says, "within the")
	}
	if !said {
		t.Errorf("the service is not said: %+v", s.Lines)
	}
}
