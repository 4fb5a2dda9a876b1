package machine

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/money"

	"pgregory.net/rapid"
)

func TestRemainingValueNeverRisesWithAge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := RemainingIn{MachineClass: rapid.SampledFrom(RemainingClasses()).Draw(t, "class"), AgeYears: rapid.Float64Range(0, 99).Draw(t, "age"),
			AnnualHours: rapid.Float64Range(0, 3000).Draw(t, "hours"), ListPrice: ptr(money.Whole(100_000))}
		younger, err := RemainingValue(in)
		if err != nil {
			t.Fatal(err)
		}
		in.AgeYears += rapid.Float64Range(0, 1).Draw(t, "older by")
		older, err := RemainingValue(in)
		if err != nil || older.PercentOfList > younger.PercentOfList || older.PercentOfList < 0 || *older.Value > *younger.Value {
			t.Fatalf("%v %% becomes %v %%, %v", younger.PercentOfList, older.PercentOfList, err)
		}
	})
}

// Where the root comes to nothing the value stays 0: at 400 h a year the large tractor's
// after 62.1 years (worked by hand from the coefficients).
func TestOldMachinesAreWorthNothing(t *testing.T) {
	for age, worth := range map[float64]bool{61: true, 63: false, 90: false} {
		got, err := RemainingValue(RemainingIn{MachineClass: "Farm tractor large", AgeYears: age, AnnualHours: 400, ListPrice: ptr(money.Whole(1e9))})
		if err != nil || (got.PercentOfList > 0) != worth || (*got.Value > 0) != worth {
			t.Errorf("at %v years: %v %%, %v, %v", age, got.PercentOfList, got.Value, err)
		}
	}
}

func TestRemainingValueIsOfTheListPrice(t *testing.T) {
	got, err := RemainingValue(RemainingIn{C1: ptr(0.5), C2: ptr(0.0), C3: ptr(0.0), AgeYears: 3, AnnualHours: 100, ListPrice: ptr(money.MustFactor("1000.02"))})
	if err != nil || got.PercentOfList != 25 || *got.Value != 250_01 { // 250.005, a half, goes up
		t.Errorf("%+v, %v", got, err)
	}
	bare, err := RemainingValue(RemainingIn{MachineClass: "planter / grain DRILL", AgeYears: 1})
	if err != nil {
		t.Fatal(err)
	}
	if raw, err := json.Marshal(bare); err != nil || strings.Contains(string(raw), "value") {
		t.Errorf("without a list price: %s, %v", raw, err)
	}
}

func TestRepairsAddUpOverTheMeter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		class := rapid.SampledFrom(RepairClasses()).Draw(t, "class")
		a := rapid.Float64Range(0, 9000).Draw(t, "a")
		step := rapid.Float64Range(0, 500).Draw(t, "step")
		cost := func(from, to float64) money.Cents {
			got, err := RepairCost(RepairIn{RepairChoice{MachineClass: class}, money.Whole(80_000), from, to})
			if err != nil {
				t.Fatal(err)
			}
			return got.Cost
		}
		first, second, both := cost(a, a+step), cost(a+step, a+2*step), cost(a, a+2*step)
		if off := both - first - second; off < -1 || off > 1 {
			t.Fatalf("%s + %s is not %s", first, second, both)
		}
		if first > second+1 {
			t.Fatalf("earlier hours cost more: %s then %s", first, second)
		}
	})
}

// What the yearly sums and the end value are worth on the first day is the price paid.
func TestCapitalRecoveryPaysThePrice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		purchase, end := rapid.Int64Range(0, 900_000).Draw(t, "purchase"), rapid.Int64Range(0, 400_000).Draw(t, "end")
		years, interest := rapid.IntRange(1, 30).Draw(t, "years"), float64(rapid.IntRange(0, 250).Draw(t, "interest"))/10
		got, err := CapitalRecovery(RecoveryIn{money.Whole(purchase), money.Whole(end), float64(years), interest})
		if err != nil {
			t.Fatal(err)
		}
		growth, worth := 1+interest/100, 0.0
		for year := 1; year <= years; year++ {
			worth += got.PerYear.Factor().Float() / math.Pow(growth, float64(year))
		}
		worth += float64(end) / math.Pow(growth, float64(years))
		if math.Abs(worth-float64(purchase)) > 0.005*float64(years)+1e-4 {
			t.Fatalf("%s a year pays %v of %d", got.PerYear, worth, purchase)
		}
	})
}

func TestRecoveryWithoutInterestIsOnePartInTheYears(t *testing.T) {
	if f := RecoveryFactor(8, 0); f != 0.125 {
		t.Errorf("%v", f)
	}
	if near := RecoveryFactor(8, 1e-9); math.Abs(near-0.125) > 1e-9 {
		t.Errorf("just above no interest the factor is %v", near)
	}
}

// example is the large tractor of Iowa State A3-29 (older edition) with running costs of
// our own: 30 L/h at 2.00 less 0.203 a litre, labour at 35.00 for 1.1 h.
func example() HourIn {
	return HourIn{
		PurchasePrice: money.Whole(130_000), ListPrice: money.Whole(150_000), KeepYears: 15, AnnualHours: 400, InterestPercent: 8, TIHPercent: 1,
		Remaining: EndValue{Percent: ptr(23.0)}, Repair: RepairChoice{MachineClass: "Tractor 2WD"}, MeterH: 5600,
		Fuel: FuelUse{LPerH: ptr(30.0)}, FuelPricePerL: money.MustFactor("2.00"), FuelCreditPerL: money.MustFactor("0.203"), LabourPerH: money.Whole(35),
	}
}

// By hand: (13,917.22 + 822.50) ÷ 400 = 36.8493; 0.007 × (6.0² − 5.6²) × 150,000 ÷ 400 =
// 12.18; 30 × 1.797 = 53.91; 15 % of it 8.0865; 35 × 1.1 = 38.50; together 149.5258. The
// two odd cents of 149.53 go to ownership and lubrication.
func TestAMachineHourByHand(t *testing.T) {
	got := hourOf(t, example())
	want := [...]money.Cents{34_500_00, 13_917_22, 822_50, 36_85, 12_18, 53_91, 8_09, 38_50, 149_53}
	have := [...]money.Cents{got.EndValue, got.CapitalRecoveryPerYear, got.TIHPerYear, got.OwnershipPerH, got.RepairPerH, got.FuelPerH, got.LubricationPerH, got.LabourPerH, got.TotalPerH}
	if have != want {
		t.Errorf("%v, want %v", have, want)
	}
}

func TestTheClassGivesTheEndValueAtTheLastYear(t *testing.T) {
	in := example()
	in.AgeYears, in.Remaining = 3, EndValue{MachineClass: "Farm tractor large"}
	want, err := RemainingValue(RemainingIn{MachineClass: "Farm tractor large (>112 kW / 150 hp)", AgeYears: 18, AnnualHours: 400, ListPrice: &in.ListPrice})
	if got := hourOf(t, in); err != nil || got.EndValue != *want.Value {
		t.Errorf("%s, want %s, %v", got.EndValue, want.Value, err)
	}
}

func TestThePartsOfAnHourAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := example()
		in.PurchasePrice, in.AnnualHours = money.Whole(rapid.Int64Range(0, 500_000).Draw(t, "price")), rapid.Float64Range(1, 2000).Draw(t, "hours")
		in.Fuel, in.LabourPerH = FuelUse{PtoKW: ptr(rapid.Float64Range(0, 300).Draw(t, "kW"))}, money.FactorOf(rapid.Float64Range(0, 90).Draw(t, "labour"), 2)
		got, err := HourOf(in)
		if err != nil {
			t.Fatal(err)
		}
		if sum := got.OwnershipPerH + got.RepairPerH + got.FuelPerH + got.LubricationPerH + got.LabourPerH; sum != got.TotalPerH {
			t.Fatalf("parts add to %s, the total is %s", sum, got.TotalPerH)
		}
	})
}

func TestRatesAlongRows(t *testing.T) {
	in := RateIn{SpeedKmh: 6, RowM: ptr(400.0), TurnS: ptr(0.0), RowsPerPass: ptr(2)}
	if got, err := FieldRate(in); err != nil || math.Abs(got.RowKmPerH-12) > 1e-12 || got.TurnEfficiencyPercent != 100 {
		t.Errorf("without turns: %+v, %v", got, err)
	}
	in.OtherEfficiencyPercent, in.TurnS = ptr(80.0), ptr(240.0)
	if got, err := FieldRate(in); err != nil || math.Abs(got.RowKmPerH-4.8) > 1e-12 || got.TurnEfficiencyPercent != 50 {
		t.Errorf("a turn as long as the run: %+v, %v", got, err)
	}
}

func TestWrongRatesAreNamed(t *testing.T) {
	for field, in := range map[string]RateIn{
		"width_m":                  {SpeedKmh: 6, WidthM: ptr(3.0), EfficiencyPercent: ptr(70.0), TurnS: ptr(20.0)},
		"efficiency_percent":       {SpeedKmh: 6, WidthM: ptr(3.0), EfficiencyPercent: ptr(0.85)},
		"speed_kmh":                {SpeedKmh: math.NaN(), WidthM: ptr(3.0), EfficiencyPercent: ptr(85.0)},
		"turn_s":                   {SpeedKmh: 6, RowM: ptr(400.0), RowsPerPass: ptr(1)},
		"row_m":                    {SpeedKmh: 6, RowM: ptr(math.Inf(1)), TurnS: ptr(2.0), RowsPerPass: ptr(1)},
		"rows_per_pass":            {SpeedKmh: 6, RowM: ptr(400.0), TurnS: ptr(2.0), RowsPerPass: ptr(0)},
		"other_efficiency_percent": {SpeedKmh: 6, RowM: ptr(400.0), TurnS: ptr(2.0), RowsPerPass: ptr(1), OtherEfficiencyPercent: ptr(101.0)},
	} {
		if _, err := FieldRate(in); fault.Fields(err)[field] == "" {
			t.Errorf("want %s refused, got %v", field, fault.Fields(err))
		}
	}
	if _, err := FieldRate(RateIn{SpeedKmh: 6}); len(fault.Fields(err)) != 2 {
		t.Errorf("a speed alone: %v", fault.Fields(err))
	}
	if _, err := FieldRate(RateIn{SpeedKmh: 6, RowM: ptr(400.0), TurnS: ptr(2.0)}); fault.Fields(err)["rows_per_pass"] == "" {
		t.Errorf("no rows: %v", err)
	}
}

func TestWrongRemainingValuesAreNamed(t *testing.T) {
	for field, in := range map[string]RemainingIn{
		"machine_class": {},
		"c1":            {C2: ptr(0.1), C3: ptr(0.0)},
		"c2":            {C1: ptr(0.9), C2: ptr(-0.1), C3: ptr(0.0)},
		"c3":            {C1: ptr(0.9), C2: ptr(0.1), C3: ptr(math.NaN())},
		"age_years":     {MachineClass: "Baler", AgeYears: -1},
		"annual_hours":  {MachineClass: "Baler", AnnualHours: 8785},
		"list_price":    {MachineClass: "Baler", ListPrice: ptr(money.Whole(-1))},
	} {
		if _, err := RemainingValue(in); fault.Fields(err)[field] == "" {
			t.Errorf("want %s refused, got %v", field, fault.Fields(err))
		}
	}
	both := RemainingIn{MachineClass: "Baler", C1: ptr(0.9), C2: ptr(0.1), C3: ptr(0.0)}
	if _, err := RemainingValue(both); fault.Fields(err)["machine_class"] == "" {
		t.Errorf("class and coefficients: %v", err)
	}
	_, err := RemainingValue(RemainingIn{MachineClass: "spaceship"})
	if sentence := fault.Fields(err)["machine_class"]; !strings.Contains(sentence, "Planter / grain drill") || !strings.Contains(sentence, "spaceship") {
		t.Errorf("the sentence does not list the classes: %s", sentence)
	}
}

func TestClassesAreFoundByTheirFirstWordsWhereOneBeginsSo(t *testing.T) {
	for _, name := range []string{"Tractor 2WD", "tractor 2wd AND stationary power unit", "Tandem disk", "Mower (sickle)", "Wagon"} {
		if _, err := factorsOf(repairClasses, name); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, name := range []string{"Tractor", "Mower", "Row crop", "Tract", "", " ", "Wagon "} {
		if _, err := factorsOf(repairClasses, name); err == nil {
			t.Errorf("%q is found", name)
		}
	}
}

func TestWrongRepairsAreNamed(t *testing.T) {
	class := RepairChoice{MachineClass: "Wagon"}
	for field, in := range map[string]RepairIn{
		"machine_class": {},
		"rf1":           {RepairChoice: RepairChoice{RF2: ptr(1.0)}},
		"rf2":           {RepairChoice: RepairChoice{RF1: ptr(1.0)}},
		"list_price":    {RepairChoice: class, ListPrice: money.Whole(2e9)},
		"from_h":        {RepairChoice: class, FromH: -1},
		"to_h":          {RepairChoice: class, FromH: 100, ToH: 99},
	} {
		if _, err := RepairCost(in); fault.Fields(err)[field] == "" {
			t.Errorf("want %s refused, got %v", field, fault.Fields(err))
		}
	}
	for _, in := range []RepairIn{
		{RepairChoice: RepairChoice{MachineClass: "Wagon", RF1: ptr(1.0), RF2: ptr(1.0)}},
		{RepairChoice: RepairChoice{RF1: ptr(11.0), RF2: ptr(4.0)}},
		{RepairChoice: RepairChoice{RF1: ptr(10.0), RF2: ptr(4.0)}, ListPrice: money.Whole(1e9), ToH: 2e5},
	} {
		if got, err := RepairCost(in); err == nil {
			t.Errorf("taken: %+v", got)
		}
	}
}

func TestWrongRecoveriesAreNamed(t *testing.T) {
	one := money.Whole(1)
	for field, in := range map[string]RecoveryIn{
		"purchase_price":   {money.Whole(-1), one, 1, 1},
		"end_value":        {one, money.Whole(-1), 1, 1},
		"years":            {one, one, 0, 1},
		"interest_percent": {one, one, 1, math.Inf(1)},
	} {
		if _, err := CapitalRecovery(in); fault.Fields(err)[field] == "" {
			t.Errorf("want %s refused, got %v", field, fault.Fields(err))
		}
	}
}

func TestWrongHoursAreNamed(t *testing.T) {
	for field, spoil := range map[string]func(*HourIn){
		"purchase_price":                  func(in *HourIn) { in.PurchasePrice = money.Whole(-1) },
		"list_price":                      func(in *HourIn) { in.ListPrice = money.Whole(2e9) },
		"age_years":                       func(in *HourIn) { in.AgeYears = 101 },
		"keep_years":                      func(in *HourIn) { in.KeepYears = 0 },
		"annual_hours":                    func(in *HourIn) { in.AnnualHours = 0 },
		"interest_percent":                func(in *HourIn) { in.InterestPercent = math.NaN() },
		"taxes_insurance_housing_percent": func(in *HourIn) { in.TIHPercent = -1 },
		"remaining.percent":               func(in *HourIn) { in.Remaining = EndValue{Percent: ptr(101.0)} },
		"remaining.machine_class":         func(in *HourIn) { in.Remaining = EndValue{} },
		"repair.machine_class":            func(in *HourIn) { in.Repair = RepairChoice{MachineClass: "Baler"} },
		"meter_h":                         func(in *HourIn) { in.MeterH = -1 },
		"fuel.l_per_h":                    func(in *HourIn) { in.Fuel = FuelUse{LPerKWh: ptr(0.2)} },
		"fuel.pto_kw":                     func(in *HourIn) { in.Fuel = FuelUse{PtoKW: ptr(1e9)} },
		"fuel_price_per_l":                func(in *HourIn) { in.FuelPricePerL = money.Whole(-1) },
		"fuel_credit_per_l":               func(in *HourIn) { in.FuelCreditPerL = money.Whole(3) },
		"labour_per_h":                    func(in *HourIn) { in.LabourPerH = money.Whole(-1) },
		"lubrication_percent":             func(in *HourIn) { in.LubricationPercent = ptr(101.0) },
		"labour_hours_per_machine_hour":   func(in *HourIn) { in.LabourHoursPerMachineHour = ptr(-1.0) },
	} {
		in := example()
		spoil(&in)
		if _, err := HourOf(in); fault.Fields(err)[field] == "" {
			t.Errorf("want %s refused, got %v", field, fault.Fields(err))
		}
	}
	both := example()
	both.Remaining = EndValue{MachineClass: "Baler", Percent: ptr(1.0)}
	both.Fuel.PtoKW = ptr(1.0)
	if _, err := HourOf(both); len(fault.Fields(err)) != 2 {
		t.Errorf("both given: %v", fault.Fields(err))
	}
	huge := example()
	huge.Repair, huge.MeterH, huge.ListPrice = RepairChoice{RF1: ptr(10.0), RF2: ptr(4.0)}, 2e5, money.Whole(1e9)
	if got, err := HourOf(huge); fault.KindOf(err) != fault.Refused {
		t.Errorf("%s an hour is taken, %v", got.TotalPerH, err)
	}
}

// 20 coulters at 0.15 m sow 3.0 m: each sows half a gap on either side (common practice, no source).
func TestWidthSownAtOnce(t *testing.T) {
	for _, c := range []struct {
		m    Machine
		want float64
	}{{Machine{Rows: 20, RowGapM: 0.15}, 3}, {Machine{Rows: 2}, 0}, {Machine{}, 0}} {
		if got := c.m.SownM(); got != c.want {
			t.Errorf("%d rows at %v m sow %v m, want %v", c.m.Rows, c.m.RowGapM, got, c.want)
		}
	}
}
