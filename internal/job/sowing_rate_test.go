package job

import (
	"math"
	"testing"

	"rowtally/internal/machine"
)

// sheetsOf is one sheet for each pair of hours and row-km.
func sheetsOf(pairs ...[2]float64) (sheets []machine.DaySheet) {
	for _, p := range pairs {
		sheets = append(sheets, machine.DaySheet{MeterToMin: int64(p[0] * 60), RowM: 1000 * p[1]})
	}
	return sheets
}

// By hand: 10 + 12 + 20 row-km over 4 + 6 + 8 h is 2.3333 row-km/h; the days are off by
// 0.6667, −2 and 1.3333 row-km, squares 6.2222; √(3 × 6.2222 ÷ 2) ÷ 18 = 0.16973 with t of
// 2 degrees 4.3027 (NIST/SEMATECH e-Handbook, 1.3.6.7.2) is 0.7303.
func TestTheRateAndItsIntervalByHand(t *testing.T) {
	got := LearnRate(machine.Machine{}, append(sheetsOf([2]float64{4, 10}, [2]float64{6, 12}, [2]float64{8, 20}), sheetsOf([2]float64{3, 0}, [2]float64{0, 1})...))
	if got.Sheets != 3 || math.Abs(got.RowKmPerH-42.0/18) > 1e-9 || math.Abs(got.Low-1.6030) > 5e-4 || math.Abs(got.High-3.0636) > 5e-4 || got.Enough {
		t.Errorf("%+v, want 2.3333 from 1.6030 to 3.0636, not enough yet", got)
	}
	if m := (machine.Machine{Owning: &machine.Owning{EnoughH: 18}}); !LearnRate(m, sheetsOf([2]float64{10, 20}, [2]float64{8, 20})).Enough {
		t.Error("18 h reach a setting of 18 h")
	}
	if one := LearnRate(machine.Machine{}, sheetsOf([2]float64{4, 10})); one.High != 0 || one.RowKmPerH != 2.5 {
		t.Errorf("one sheet: %+v, want 2.5 without an interval", one)
	}
	if none := LearnRate(machine.Machine{}, nil); none.Working() != nil || none.Says() != "No day sheet of the last twelve months tells how far it sowed." {
		t.Errorf("no sheet: %+v", none)
	}
}

// A pace rules until the day sheets tell enough hours.
func TestAJobsMachineTime(t *testing.T) {
	f := sceneOf(t, 40)
	turn, fill := 40.0, 18.0
	f.Sower = &machine.Machine{ID: 7, Rows: 2, Pace: machine.Pace{SpeedKmh: 5, TurnS: &turn, FillMin: &fill}}
	laid, err := f.Rows()
	if err != nil {
		t.Fatal(err)
	}
	got := f.MachineTime()
	perRowKm := 3600*laid.DrivenM/(5*laid.RowM) + 40*1000*float64(laid.Passes)/laid.RowM + 18*60*1000/f.tubRowM(*f.Layout)
	if got.Cannot != "" || got.Own || math.Abs(got.RowKmPerH-3600/perRowKm) > 1e-9 || math.Abs(got.Hours-got.ToSowM/1000/got.RowKmPerH) > 1e-9 {
		t.Errorf("%+v, want %v row-km/h", got, 3600/perRowKm)
	}
	f.Yard.Sheets = sheetsOf([2]float64{30, 60}, [2]float64{30, 66})
	for i := range f.Yard.Sheets {
		f.Yard.Sheets[i].MachineID = 7
	}
	if own := f.MachineTime(); !own.Own || math.Abs(own.RowKmPerH-2.1) > 1e-9 {
		t.Errorf("%+v, want 126 row-km over 60 h of its own", own)
	}
	f.Yard.Sheets, f.Sower.Pace = nil, machine.Pace{}
	if none := f.MachineTime(); none.Cannot == "" {
		t.Errorf("nothing tells a rate: %+v", none)
	}
	f.Sower = nil
	if none := f.MachineTime(); none.Cannot == "" {
		t.Errorf("nobody sows it: %+v", none)
	}
}
