package machine

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// owned is the tractor of example, number 1, with its figures as they are kept.
func owned() Machine {
	in := example()
	return Machine{ID: 1, Name: "tractor", MeterMin: 5600 * 60, MeterOn: "2026-07-20", Owning: &Owning{
		PurchasePrice: in.PurchasePrice, ListPrice: in.ListPrice, KeepYears: in.KeepYears, AnnualHours: in.AnnualHours,
		InterestPercent: in.InterestPercent, TIHPercent: in.TIHPercent, RemainingPercent: in.Remaining.Percent, RepairClass: "Tractor 2WD",
		FuelLPerH: in.Fuel.LPerH, LabourPerH: in.LabourPerH, EnoughH: 50,
	}}
}

// fuelled is a price of 2.00 and a credit of 0.203 from 1 Jul 2026, of our own.
func fuelled() FuelRates {
	return FuelRates{
		{Kind: PriceOfFuel, FromOn: "2026-07-01", PerL: money.Whole(2)},
		{Kind: CreditOfFuel, FromOn: "2026-07-01", PerL: money.MustFactor("0.203")},
		{Kind: PriceOfFuel, FromOn: "2026-08-01", PerL: money.Whole(3)},
	}
}

// ran is one sheet of the tractor of so many hours from a reading, with fuel put in.
func ran(day unit.Date, fromH, hours, fuelL float64) DaySheet {
	return DaySheet{MachineID: 1, Day: day, MeterFromMin: int64(fromH * 60), MeterToMin: int64((fromH + hours) * 60), FuelML: int64(fuelL * 1000)}
}

func costOf(t *testing.T, m Machine, sheets []DaySheet, on unit.Date) Hour {
	t.Helper()
	got, err := HourCost(m, sheets, fuelled(), on)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// The figures by hand stand at TestAMachineHourByHand.
func TestWithoutDaySheetsTheBookRules(t *testing.T) {
	got := costOf(t, owned(), nil, "2026-07-20")
	if got.TotalPerH != 149_53 || got.Taken[0].Own || got.Taken[1].Own {
		t.Errorf("%s an hour, taken %+v, want 149.53 by the book", got.TotalPerH, got.Taken)
	}
	if later := costOf(t, owned(), nil, "2026-08-01"); later.FuelPerH != 83_91 {
		t.Errorf("fuel %s an hour at the later price, want 30 × (3 − 0.203) = 83.91", later.FuelPerH)
	}
}

// By hand: 5,600 h on 20 Jul less 5,500 h on 22 Sep is 100 h in 301 days, 121.26 h a year;
// 560 L over 56 h is 10 L/h, × 1.797 = 17.97.
func TestEnoughDaySheetsReplaceTheBook(t *testing.T) {
	sheets := []DaySheet{ran("2026-06-01", 5540, 30, 300), ran("2025-09-22", 5500, 26, 260), ran("2025-01-02", 4000, 900, 9000)}
	got := costOf(t, owned(), sheets, "2026-07-20")
	if hours := got.Taken[0]; !hours.Own || math.Abs(hours.Value-100*365.0/301) > 1e-9 || !strings.Contains(hours.Why, "301 days") {
		t.Errorf("hours a year %+v, want 121.26 of its own", hours)
	}
	if fuel := got.Taken[1]; !fuel.Own || fuel.Value != 10 || got.FuelPerH != 17_97 {
		t.Errorf("fuel %+v, %s an hour, want 10 L/h and 17.97", fuel, got.FuelPerH)
	}
	for name, c := range map[string]struct {
		sheets []DaySheet
		enough float64
		why    string
	}{
		"too few hours": {sheets, 60, "tell 56.0 h, its own figures count from 60 h"},
		"too few days":  {[]DaySheet{ran("2026-06-01", 5500, 60, 600)}, 50, "runs over 49 days, its own hours count from 180"},
	} {
		m := owned()
		m.Owning.EnoughH = c.enough
		if hours := costOf(t, m, c.sheets, "2026-07-20").Taken[0]; hours.Own || hours.Value != 400 || !strings.Contains(hours.Why, c.why) {
			t.Errorf("%s: %+v, want the book's 400 h because %q", name, hours, c.why)
		}
	}
}

// A replaced meter tells nothing between two sheets: the sheets' own hours count then.
func TestAReplacedMeterIsNotTakenForHours(t *testing.T) {
	m := owned()
	m.MeterMin = 60 * 60
	got := costOf(t, m, []DaySheet{ran("2025-09-22", 5500, 26, 0), ran("2026-06-01", 10, 30, 0)}, "2026-07-20")
	if hours := got.Taken[0]; !hours.Own || math.Abs(hours.Value-56*365.0/301) > 1e-9 || got.Taken[1].Own {
		t.Errorf("%+v, want 56 h in 301 days, and no fuel of its own", got.Taken)
	}
}

// By hand, at 150,000 of list price: 0.007 × (5.62² − 5.60²) = 0.0015708, 235.62 $; 20 h of
// 36.8493 ownership are 736.99, of 53.91 fuel 1,078.20, of 8.0865 161.73, of 38.50 770.00.
func TestAJobsRepairRunsOverItsOwnHours(t *testing.T) {
	h := costOf(t, owned(), nil, "2026-07-20")
	next, err := h.For(20)
	if err != nil || next != (Run{20, 736_99, 235_62, 1078_20, 161_73, 770_00, 2982_54}) {
		t.Errorf("20 h to come: %+v, %v", next, err)
	}
	done, err := h.Over([]DaySheet{ran("2026-07-01", 5600, 8, 0), ran("2026-07-02", 5608, 12, 0)})
	if err != nil || done != next {
		t.Errorf("20 h over two days: %+v, want the same as %+v, %v", done, next, err)
	}
	early, err := h.Over([]DaySheet{ran("2026-07-01", 1000, 20, 0)})
	if err != nil || early.Repair >= done.Repair {
		t.Errorf("repairs of early hours %s, of later ones %s: later hours cost more", early.Repair, done.Repair)
	}
	if _, err := h.For(-1); fault.Fields(err)["hours"] == "" {
		t.Errorf("hours below nothing: %v", err)
	}
}

func TestATowedMachineGoesByTheHoursOfWhatPullsIt(t *testing.T) {
	seeder := owned()
	seeder.ID, seeder.MeterMin, seeder.PulledByID = 2, 0, 1
	seeder.Owning.WorkedH, seeder.Owning.FuelLPerH, seeder.Owning.LabourPerH = 5600, ptr(0.0), money.Factor{}
	sheets := []DaySheet{ran("2025-09-22", 9000, 26, 260), ran("2026-06-01", 9040, 30, 300)}
	h := costOf(t, seeder, sheets, "2026-07-20")
	if !h.Taken[0].Own || math.Abs(h.Taken[0].Value-56*365.0/301) > 1e-9 || h.Taken[1].Own || h.FuelPerH != 0 {
		t.Errorf("%+v, %s fuel, want 56 h carried on and no fuel", h.Taken, h.FuelPerH)
	}
	got, err := h.Over(sheets)
	want, wrong := h.For(56)
	if err != nil || wrong != nil || got.Repair != want.Repair || got.Hours != 56 {
		t.Errorf("%+v, want repairs of 56 h on from its own, %s", got, want.Repair)
	}
	both, err := Together(costOf(t, owned(), nil, "2026-07-20"), h)
	if err != nil || both.TotalPerH != 149_53+h.TotalPerH || both.RepairPerH != 12_18+h.RepairPerH {
		t.Errorf("together %+v, %v", both, err)
	}
}

func TestTheHoursOfAJobAddUp(t *testing.T) {
	h := costOf(t, owned(), nil, "2026-07-20")
	rapid.Check(t, func(t *rapid.T) {
		r, err := h.For(rapid.Float64Range(0, 2000).Draw(t, "hours"))
		if err != nil || r.Ownership+r.Repair+r.Fuel+r.Lubrication+r.Labour != r.Total {
			t.Fatalf("%+v, %v", r, err)
		}
	})
}

func TestWhatIsMissingForAnHourIsSaid(t *testing.T) {
	if _, err := HourCost(Machine{Name: "drill"}, nil, fuelled(), "2026-07-20"); !strings.Contains(fault.Fields(err)["owning"], "what drill costs to own") {
		t.Errorf("nothing entered: %v", err)
	}
	if _, err := HourCost(owned(), nil, fuelled(), "2026-06-30"); !strings.Contains(fault.Fields(err)["fuel_price"], "no price of fuel counts on 30 Jun 2026") {
		t.Errorf("no price yet: %v", err)
	}
	towed := owned()
	towed.Owning.FuelLPerH = ptr(0.0)
	if _, err := HourCost(towed, nil, nil, "2026-06-30"); err != nil {
		t.Errorf("a towed machine asks for a price of fuel: %v", err)
	}
	for field, spoil := range map[string]func(*Owning){
		"keep_years": func(o *Owning) { o.KeepYears = 0 }, "worked_h": func(o *Owning) { o.WorkedH = -1 }, "enough_h": func(o *Owning) { o.EnoughH = 0 },
		"remaining.machine_class": func(o *Owning) { o.RemainingClass = "Plough" }, "fuel.l_per_h": func(o *Owning) { o.FuelLPerH = nil },
	} {
		o := *owned().Owning
		spoil(&o)
		if fault.Fields(o.Check())[field] == "" {
			t.Errorf("%s goes through: %v", field, o.Check())
		}
	}
}

func TestARateOfFuelIsChecked(t *testing.T) {
	for field, r := range map[string]FuelRate{
		"kind":    {Kind: "gift", FromOn: "2026-07-01"},
		"from_on": {Kind: PriceOfFuel},
		"per_l":   {Kind: CreditOfFuel, FromOn: "2026-07-01", PerL: money.Whole(101)},
	} {
		if fault.Fields(r.Check())[field] == "" {
			t.Errorf("%+v goes through: %v", r, r.Check())
		}
	}
	if p := fuelled().On("2026-07-31"); p.PriceOn != "2026-07-01" || p.Price.Compare(money.Whole(2)) != 0 || p.CreditOn != "2026-07-01" {
		t.Errorf("on 31 Jul %+v", p)
	}
}
