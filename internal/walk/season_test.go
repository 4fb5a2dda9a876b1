package walk

import (
	"strconv"
	"testing"
	"time"
	_ "time/tzdata" // the business's day is Adelaide's, on any machine
)

// season is what the three people type in on one walk, as text, as a person would.
type season struct {
	scripts    bool
	registered bool
	business   string
	farm       string
	paddock    string
	boundary   string // file of testdata
	noGo       string // file of testdata; "" for none
	layout     layout
	lots       []lot
	medium     medium
	mix        mixing
	catch      catch
	rates      []rate
	logName    string // its ending tells the format
}

// layout is the rows form.
type layout struct {
	bearingDeg, rowsPerBelt, gapM, alleyM, headlandM, marginM, spacingM, leastM string
}

// lot is a seed lot with its certificate.
type lot struct {
	code, species, common, form, unit string
	purityPercent, thousandG          string
	bulkKgPerL                        string // "" when not measured
	countHard                         bool
	firstKg, moreKg                   string // received, and received once it is found short; "" for never
	costPerKg                         string
	replicates                        [][6]string // seeds, normal, abnormal, hard, fresh, dead; "" where not counted
}

// medium is the bulking medium.
type medium struct {
	name, densityKgPerM3, bagL, costPerBag, chargePerL string
	firstL, moreL                                      string
}

// mixing is the mix form.
type mixing struct {
	placementML, tubL, sparePercent, scaleStepG string
	species                                     []portion
}

// portion is one species of the mix: live seeds a placement, or the share to fill as
// "80 %", of some lots.
type portion struct {
	common, live, emergencePercent string
	lots                           []string
}

// catch is a catch test at the truck.
type catch struct{ caughtML, runM, outlets string }

// rate is one line of the rates; no quantity means that it follows the row-km.
type rate struct{ what, unit, quantity, price string }

// twinRows is registered for GST, sows two rows at a time round a dam and a drain, and
// uses two species.
var twinRows = season{
	scripts: true, registered: true,
	business: "Walked Rows (test)", farm: "Far Sandbar", paddock: "Swale", boundary: "swale.geojson", noGo: "swale-drain.geojson",
	layout: layout{bearingDeg: "12", rowsPerBelt: "2", gapM: "2", alleyM: "12", headlandM: "8", marginM: "6", spacingM: "3", leastM: "20"},
	lots: []lot{
		{code: "W-01", species: "Atriplex nummularia", common: "old man saltbush", form: "fruit, bracts on", unit: "fruit",
			purityPercent: "91.5", thousandG: "11.4", bulkKgPerL: "0.14", firstKg: "2", moreKg: "12", costPerKg: "46.00",
			replicates: [][6]string{{"100", "33", "7", "0", "4", "56"}, {"100", "36", "5", "0", "3", "56"}, {"100", "31", "6", "0", "5", "58"}, {"100", "35", "8", "0", "2", "55"}}},
		{code: "W-02", species: "Atriplex undulata", common: "wavy leaf saltbush", form: "seed, bracts removed", unit: "naked seed",
			purityPercent: "95", thousandG: "2.1", firstKg: "4", costPerKg: "65.00",
			replicates: [][6]string{{"100", "50"}, {"100", "52"}, {"100", "49"}, {"100", "53"}}},
	},
	medium: medium{name: "vermiculite, medium grade", densityKgPerM3: "95", bagL: "100", costPerBag: "38.00", chargePerL: "0.62", firstL: "150", moreL: "300"},
	mix: mixing{placementML: "45", tubL: "90", sparePercent: "4", scaleStepG: "5", species: []portion{
		{common: "old man saltbush", live: "30", emergencePercent: "5", lots: []string{"W-01"}},
		{common: "wavy leaf saltbush", live: "20", emergencePercent: "4", lots: []string{"W-02"}},
	}},
	catch: catch{caughtML: "1856", runM: "48", outlets: "2"}, // 58 mL to each of 16 placements of 2 rows
	rates: []rate{
		{"Set-up and calibration", "each", "1", "380.00"},
		{"Travel, float out and back", "driven km", "164", "2.90"},
		{"Rows on mounds", "row-km", "", "105.00"},
		{"Seed at cost and handling", "row-km", "", "22.7248"},
	},
	logName: "swale.gpx",
}

// singleRows is not registered, has no scripts in its browsers, sows row by row, and
// fills a share of the placements from two lots of one species.
var singleRows = season{
	business: "Unscripted Rows (test)", farm: "Outer Bank", paddock: "Spit", boundary: "spit.kml",
	layout: layout{bearingDeg: "85.5", rowsPerBelt: "1", alleyM: "4", headlandM: "6", spacingM: "4", leastM: "15"},
	lots: []lot{
		{code: "X-01", species: "Atriplex semibaccata", common: "creeping saltbush", form: "dried fruit", unit: "fruit",
			purityPercent: "86", thousandG: "2.9", firstKg: "0.2", moreKg: "6", costPerKg: "60", countHard: true,
			replicates: [][6]string{{"100", "44", "6", "9", "1", "40"}, {"100", "47", "3", "8", "2", "40"}, {"100", "46", "4", "7", "0", "43"}, {"100", "48", "2", "10", "0", "40"}}},
		{code: "X-02", species: "Atriplex semibaccata", common: "creeping saltbush", form: "dried fruit", unit: "fruit",
			purityPercent: "90.5", thousandG: "3.05", firstKg: "7.5", costPerKg: "58.50",
			replicates: [][6]string{{"200", "104"}, {"200", "97"}}},
	},
	medium: medium{name: "vermiculite, fine grade", densityKgPerM3: "110", bagL: "85", costPerBag: "41.50", firstL: "100", moreL: "400"},
	mix: mixing{placementML: "50", tubL: "80", sparePercent: "0", scaleStepG: "1", species: []portion{
		{common: "creeping saltbush", live: "80 %", emergencePercent: "6.5", lots: []string{"X-01", "X-02"}},
	}},
	catch: catch{caughtML: "621", runM: "45.6", outlets: "1"},
	rates: []rate{
		{"Set-up", "each", "1", "250.00"},
		{"Single rows, seed engaged", "row-km", "", "74.35"},
		{"Standby, gate locked", "h", "1.5", "165.00"},
	},
	logName: "spit.csv",
}

// amount is the number that a person typed.
func amount(t *testing.T, typed string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(typed, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// day is a calendar day of the business, some days from today, as forms take it.
func day(t *testing.T, fromToday int) string {
	t.Helper()
	return dayOf(t, fromToday).Format(time.DateOnly)
}

// dayShown is the same day as pages and papers print it.
func dayShown(t *testing.T, fromToday int) string {
	t.Helper()
	return dayOf(t, fromToday).Format("2 Jan 2006")
}

func dayOf(t *testing.T, fromToday int) time.Time {
	t.Helper()
	adelaide, err := time.LoadLocation("Australia/Adelaide")
	if err != nil {
		t.Fatal(err)
	}
	return time.Now().In(adelaide).AddDate(0, 0, fromToday)
}
