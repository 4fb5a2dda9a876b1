package machine

import (
	"testing"

	"rowtally/internal/money"
	"rowtally/internal/working"
)

// shows checks that a working holds a step with the value as shown.
func shows(t *testing.T, w working.Shown, want map[string]string) {
	t.Helper()
	shown := map[string]string{}
	for _, step := range w.Working() {
		shown[step.Step] = step.Value.String() + " " + step.Unit
		if step.Formula == "" || step.Unit == "" {
			t.Errorf("step %q lacks its formula or unit", step.Step)
		}
	}
	for step, value := range want {
		if shown[step] != value {
			t.Errorf("%s: %q, want %q", step, shown[step], value)
		}
	}
}

func TestTheWorkingOfAMachineHour(t *testing.T) {
	shows(t, hourOf(t, example()), map[string]string{
		"end value": "34,500.00 $", "capital recovery factor": "0.116830 per year", "capital recovery": "13,917.22 $ a year", "ownership": "36.85 $/h",
		"repairs of the coming year": "3.25 % of list price", "fuel": "53.91 $/h", "machine hour": "149.53 $/h",
	})
	measured := hourOf(t, example())
	byClass := example()
	byClass.Remaining, byClass.Fuel = EndValue{MachineClass: "Plough"}, FuelUse{PtoKW: ptr(100.0)}
	if measured.Working()[0].Source != "" || hourOf(t, byClass).Working()[0].Source == "" {
		t.Error("a table is named where none was used, or none where one was")
	}
	if measured.Working()[8].Source != "" || hourOf(t, byClass).Working()[8].Source == "" {
		t.Error("a rule for fuel is named where it was measured, or none where one was used")
	}
}

func TestTheOtherWorkings(t *testing.T) {
	value, err := RemainingValue(RemainingIn{MachineClass: "Farm tractor large", AgeYears: 15, AnnualHours: 400, ListPrice: ptr(money.Whole(150_000))})
	if err != nil {
		t.Fatal(err)
	}
	shows(t, value, map[string]string{"remaining value": "22.76 % of list price", "value": value.Value.Shown() + " $"})
	repair, err := RepairCost(RepairIn{RepairChoice{MachineClass: "Tractor 2WD"}, money.Whole(150_000), 0, 6000})
	if err != nil {
		t.Fatal(err)
	}
	shows(t, repair, map[string]string{"repairs up to 6000 h": "25.20 % of list price", "repairs between": "37,800.00 $"})
	recovery, err := CapitalRecovery(RecoveryIn{money.Whole(130_000), money.Whole(34_500), 15, 8})
	if err != nil {
		t.Fatal(err)
	}
	shows(t, recovery, map[string]string{"capital recovery factor": "0.116830 per year", "capital recovery": "13,917.22 $ a year"})
	area := areaRate(t, 5, 2.6, 85)
	shows(t, area, map[string]string{"work rate": "1.105 ha/h", "time for a hectare": "0.905 h/ha"})
	rows, err := FieldRate(RateIn{SpeedKmh: 6, RowM: ptr(400.0), TurnS: ptr(25.0), RowsPerPass: ptr(2)})
	if err != nil {
		t.Fatal(err)
	}
	shows(t, rows, map[string]string{"run along one row": "240.0 s", "turn efficiency": "90.57 %", "work rate": "10.868 row-km/h"})
}
