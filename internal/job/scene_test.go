package job

import (
	"fmt"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/ground"
	"rowtally/internal/mix"
	"rowtally/internal/money"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// today is the day of every chain in these tests.
const today unit.Date = "2026-07-20"

// The numbers that lots and the medium have in the store of these tests.
const (
	oldManID      = 1 // old man saltbush, ready
	wavyID        = 2 // wavy leaf saltbush, ready
	heldID        = 3 // old man saltbush, on hold
	vermiculiteID = 1
)

// twinRows are two rows 2 m apart and an alley of 12 m, a placement every 3 m.
func twinRows() *Layout {
	return &Layout{JobID: 3, RowsPerBelt: 2, RowGapM: 2, AlleyM: 12, HeadlandM: 7, NoGoMarginM: 7, SpacingM: 3}
}

// paddockFor is a paddock for 79 rows of twinRows that together are as long as asked. Its
// western fence leans in by a metre, so that the first row of the first belt, which stands
// a headland from the fence's outermost corner, nowhere keeps clear of it; all other rows
// run from headland to headland.
func paddockFor(t testing.TB, rowKm float64) Paddock {
	t.Helper()
	const belts, pitchM, gapM, headlandM, leanM = 40, 14.0, 2.0, 7.0, 1.0
	eastM := (belts-1)*pitchM + gapM + 2*headlandM + 1
	northM := rowKm*1000/(2*belts-1) + 2*headlandM
	p := Paddock{ID: 1, FarmID: 1, Name: "Bore"}
	frame := ground.NewFrame(ground.LatLon{Lat: -36.4, Lon: 140.1})
	corners := ""
	for _, c := range [][2]float64{{0, 0}, {eastM, 0}, {eastM, northM}, {leanM, northM}, {0, 0}} {
		at := frame.ToEarth(ground.Point{E: c[0] - eastM/2, N: c[1] - northM/2})
		corners += fmt.Sprintf(",[%.12f,%.12f]", at.Lon, at.Lat)
	}
	text := `{"type":"Polygon","coordinates":[[` + corners[1:] + `]]}`
	if err := ReadBoundary(&p, "bore.geojson", []byte(text), "2026-05-04"); err != nil {
		t.Fatal(err)
	}
	return p
}

// lotOf is a lot by its label, tested once with four replicates of a hundred.
func lotOf(id int64, code, species string, purityPercent, thousandUnitsG float64, cost string, normal [4]int, on unit.Date) (seed.Lot, seed.Test) {
	lot := seed.Lot{ID: id, Code: code, Species: species, CommonName: species, Form: "fruit", Unit: "fruit", Layer: seed.Shrub,
		PurityPercent: purityPercent, UnitsPerKg: UnitsPerKg(thousandUnitsG), CostPerKg: money.MustFactor(cost), RetestMonths: 12}
	test := seed.Test{ID: id, LotID: id, TestedOn: on}
	for _, n := range normal {
		test.Replicates = append(test.Replicates, seed.Replicate{Seeds: 100, Normal: n})
	}
	return lot, test
}

// shelfOf is the invented shed of the season: 41.5 kg, 17.2 kg and 22.0 kg of three lots,
// the last on hold at 9 % where a year before it stood at 27 %, and 4 720 L of medium.
func shelfOf() Shelf {
	oldMan, oldManTest := lotOf(oldManID, "D26-01", "Atriplex nummularia", 92, 12.00, "48", [4]int{33, 36, 32, 35}, "2026-02-10")
	wavy, wavyTest := lotOf(wavyID, "D26-03", "Atriplex undulata", 95, 2.10, "65", [4]int{50, 53, 49, 52}, "2026-03-02")
	held, before := lotOf(heldID, "D25-11", "Atriplex nummularia", 91, 11.80, "42", [4]int{26, 29, 25, 28}, "2025-04-28")
	_, retest := lotOf(heldID, "D25-11", "Atriplex nummularia", 91, 11.80, "42", [4]int{8, 10, 7, 11}, "2026-05-06")
	held.HoldReason, held.HeldOn = "failed its retest", "2026-05-08"
	return Shelf{
		Lots:     []seed.Lot{oldMan, wavy, held},
		Tests:    map[int64][]seed.Test{oldManID: {oldManTest}, wavyID: {wavyTest}, heldID: {before, retest}},
		Products: []mix.Product{{ID: vermiculiteID, Name: "vermiculite", BulkDensityKgPerM3: 96, BagL: 100}},
		Balances: []Balance{
			{LotStock, oldManID, Shed, 41_500}, {LotStock, wavyID, Shed, 17_200}, {LotStock, heldID, Shed, 22_000},
			{MediumStock, vermiculiteID, Shed, 4_720_000},
		},
	}
}

// recipeOf is 30 live old man of one lot and 20 live wavy leaf a placement of 45 mL.
func recipeOf(oldMan int64) *Recipe {
	return &Recipe{JobID: 3, PlacementML: 45, TubL: 160, ScaleStepG: 1, ProductID: vermiculiteID, Species: []RecipeSpecies{
		{Species: "Atriplex nummularia", EmergencePercent: 5, LivePerPlacement: 30, LotIDs: []int64{oldMan}},
		{Species: "Atriplex undulata", EmergencePercent: 5, LivePerPlacement: 20, LotIDs: []int64{wavyID}},
	}}
}

// rate is one line of a price; a quantity of "" follows the rows.
func rate(what, unitName, quantity, price string) bill.Rate {
	r := bill.Rate{Description: what, Unit: unitName, Basis: bill.RowKm, UnitPrice: money.MustFactor(price), TaxCategory: "S", TaxPercent: money.MustFactor("10")}
	if quantity != "" {
		r.Basis, r.Quantity = bill.Fixed, money.MustFactor(quantity)
	}
	return r
}

// sceneOf is a job with everything chosen and nothing done, over so many row-km.
func sceneOf(t testing.TB, rowKm float64) Facts {
	t.Helper()
	return Facts{
		Today: today,
		Business: Business{Name: "Example Rows", ABN: "51824753556", Registered: true, RegisteredOn: "2019-07-01",
			Currency: "AUD", TaxLabel: "GST", TaxPercent: "10", TermsDays: 14, ValidDays: 30},
		Job:     Job{ID: 3, Code: "J-03", FarmID: 1, PaddockID: 1, Name: "Bore", Season: 2026, AskedOn: "2026-04-20"},
		Farm:    Farm{ID: 1, Name: "Example Farm"},
		Paddock: paddockFor(t, rowKm), Layout: twinRows(), Recipe: recipeOf(oldManID), Shelf: shelfOf(),
		Rates: []bill.Rate{
			rate("Set-up and calibration", "each", "1", "380.00"),
			rate("Travel, float out and back", "driven km", "164", "2.90"),
			rate("Seeding rows on mounds", "row-km", "", "105.00"),
			rate("Seed at cost and 12 % handling", "row-km", "", "22.7248"),
			rate("Bulking medium, 15 L a row-km", "row-km", "", "9.30"),
			rate("Standby, after the first free hour", "h", "1", "165.00"),
		},
	}
}

// quoted issues the job's quote on a day, with a number of the caller's.
func (f Facts) quoted(t testing.TB, id int64, on unit.Date) Facts {
	t.Helper()
	f.Today = on
	draft, err := QuoteDraft(f)
	if err != nil {
		t.Fatal(err)
	}
	draft.ID, draft.Number, draft.Revision = id, fmt.Sprintf("Q2026-%04d", id), int(id)
	f.Papers = append(f.Papers[:len(f.Papers):len(f.Papers)], draft)
	f.Today = today
	return f
}

// agreed adds the farmer's yes to the paper named.
func (f Facts) agreed(id int64, on unit.Date) Facts {
	f.Acceptances = append(f.Acceptances[:len(f.Acceptances):len(f.Acceptances)],
		bill.Acceptance{PaperID: id, Name: "the manager", AcceptedAt: on.Time()})
	return f
}

// mixed mixes the next tubs as the sheet says, at most some of them.
func (f Facts) mixed(t testing.TB, most int) Facts {
	t.Helper()
	for range most {
		sheet, err := MixingSheetOf(f)
		if err != nil {
			t.Fatal(err)
		}
		f.Tubs = append(f.Tubs[:len(f.Tubs):len(f.Tubs)], TubOf(f, sheet))
		if len(sheet.Tubs) == 1 {
			break
		}
	}
	return f
}

// logged is the job with a sown record over so many row-km.
func (f Facts) logged(coveredKm float64) Facts {
	laid, err := f.Rows()
	if err != nil {
		panic(err)
	}
	f.Sown = &Sown{JobID: f.Job.ID, PlannedM: laid.RowM, CoveredM: coveredKm * 1000, MissedM: laid.RowM - coveredKm*1000,
		SownM: coveredKm * 1000, Fixes: 9, Passes: 2}
	return f
}
