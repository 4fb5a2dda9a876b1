package site

import (
	"context"
	"strings"
	"testing"
)

// owningForm is the tractor of Iowa State A3-29 (older edition), with 30 L/h of our own.
var owningForm = []string{
	"purchase_price", "130000", "list_price", "150,000", "age_years", "", "keep_years", "15", "annual_hours", "400", "interest_percent", "8", "tih_percent", "1",
	"remaining_class", "", "remaining_percent", "23", "repair_class", "Tractor 2WD and stationary power unit", "rf1", "", "rf2", "", "worked_h", "",
	"fuel_l_per_h", "30", "pto_kw", "", "l_per_kwh", "", "lubrication_percent", "", "labour_per_h", "35", "labour_hours", "", "enough_h", "50",
}

// rateForm is a rate of fuel that counts since before the tests' day.
func rateForm(kind, perL string) []string {
	return []string{"kind", kind, "per_l", perL, "from_on", "2026-07-01", "note", "docket"}
}

// By hand: 36.85 to own as that sheet has it; repairs from 4,812.4 h over 400 h 0.007 ×
// (5.2124² − 4.8124²) × 150,000 ÷ 400 = 10.526; fuel 30 × (2.00 − 0.203) = 53.91, 8.09 to
// lubricate, 38.50 of labour: 147.87 together; the two odd cents go to ownership and lubrication.
func TestAnHourOfAMachineOnItsPage(t *testing.T) {
	w := machined(t)
	w.contractor.get("/machines/1").mustShow(t, 200, "What blue tractor costs to own and to run is not entered yet", "Enter what it costs")
	w.contractor.post("/machines/1/owning", owningForm...).mustLead(t, "/machines/1?done=kept#hour")
	w.contractor.get("/machines/1").mustShow(t, 200, "No price of fuel counts on 20 Jul 2026")
	w.contractor.post("/machines/fuel", rateForm("price", "2.00")...).mustLead(t, "/machines/fuel?done=kept")
	w.contractor.post("/machines/fuel", rateForm("credit", "0.203")...).mustLead(t, "/machines/fuel?done=kept")
	w.contractor.get("/machines/fuel").mustShow(t, 200, "A litre costs $2.000 less a credit of $0.203 today: $1.797.", "1 Jul 2026", "docket", "tax office")
	w.contractor.get("/machines/1").mustShow(t, 200, "36.85", "10.52", "53.91", "147.87", "Working", "capital recovery",
		"Hours a year: 400.0 h, by the book, as entered (no day sheet of the last twelve months tells its hours).", "Change what it costs")
	if body := w.operator.get("/machines/1").text; strings.Contains(body, "147.87") || strings.Contains(body, "owning") {
		t.Error("the operator sees what the machine costs")
	}
	w.contractor.get("/machines/1/owning").mustShow(t, 200, `value="130000.00"`, `value="23"`, "RF1")
}

func TestFiguresOfAMachineThatMakeNoHourAreSaidBesideTheirFields(t *testing.T) {
	w := machined(t)
	for _, c := range []struct{ field, value, says string }{
		{"purchase_price", "", "is not an amount"},
		{"keep_years", "0", "0 is outside what is possible"},
		{"annual_hours", "9000", "9000 is outside what is possible"},
		{"remaining_class", "Plough", "A class and a percentage are both given: leave one out."},
		{"remaining_percent", "", "Choose a class or enter a percentage."},
		{"remaining_percent", "101", "101 is outside what is possible"},
		{"rf2", "2", "A class and factors are both given: leave one out."},
		{"pto_kw", "90", "What it burns and its rated power are both given: leave one out."},
		{"fuel_l_per_h", "", "Enter what it burns, 0 when it is pulled, or its rated power."},
		{"lubrication_percent", "much", "“much” is not a number"},
		{"enough_h", "", "Enter a number from 1"},
	} {
		w.contractor.post("/machines/1/owning", with(owningForm, c.field, c.value)...).mustShow(t, 422, c.says, `value="150,000"`, `aria-invalid="true"`)
	}
	noClass := with(with(owningForm, "repair_class", ""), "rf1", "0.3")
	w.contractor.post("/machines/1/owning", noClass...).mustShow(t, 422, "Rf2 is missing, give rf1 and rf2 together")
	if m, err := w.store.Machine(context.Background(), 1); err != nil || m.Owning != nil {
		t.Errorf("something was kept: %+v, %v", m.Owning, err)
	}
}

func TestRatesOfFuelAreKeptAndTakenAway(t *testing.T) {
	w := machined(t)
	w.contractor.get("/machines/fuel").mustShow(t, 200, "No price of fuel counts today.")
	w.contractor.post("/machines/fuel", rateForm("price", "1.684")...).mustLead(t, "/machines/fuel?done=kept")
	w.contractor.post("/machines/fuel", rateForm("price", "1.7")...).mustShow(t, 422, "A price from 1 Jul 2026 on is kept already", `value="1.7"`)
	for _, c := range []struct{ field, value, says string }{
		{"per_l", "168.4", "outside what is possible"}, {"per_l", "-1", "is below zero"}, {"from_on", "", "Enter a day"}, {"kind", "gift", "Choose one of the list."},
	} {
		w.contractor.post("/machines/fuel", with(rateForm("credit", "0.2"), c.field, c.value)...).mustShow(t, 422, c.says, `value="docket"`)
	}
	w.contractor.post("/machines/fuel/1/remove").mustLead(t, "/machines/fuel?done=off")
	w.contractor.get("/machines/fuel").mustShow(t, 200, "No price of fuel counts today.")
	w.contractor.get("/journal").mustShow(t, 200, "took the fuel price of 1.684 a litre from 1 Jul 2026 on away again")
}

func TestAServiceFallsDueByHoursAndByDate(t *testing.T) {
	w := machined(t)
	dated := append(with(machineForm, "service_h", "5050"), "service_every_h", "250", "service_on", "2026-07-31", "service_every_months", "6")
	w.contractor.post("/machines/1/edit", dated...).mustLead(t, "/machines/1?done=kept")
	w.operator.get("/machines").mustShow(t, 200, "Blue tractor: 237.6 h left to service; due on 31 Jul 2026, in 11 days.")
	w.contractor.get("/").mustShow(t, 200, "blue tractor, due at 5\u2009050 h", "due on 31 Jul 2026, in 11 days")
	w.contractor.post("/machines/1/serviced", "serviced_on", "2026-07-21", "serviced_note", "oil").mustShow(t, 422, "is after today", `value="oil"`)
	w.contractor.post("/machines/1/serviced", "serviced_on", "2026-07-20", "serviced_note", "oil").mustLead(t, "/machines/1?done=kept")
	w.contractor.get("/machines/1").mustShow(t, 200, "5\u2009062.4", "due on 20 Jan 2027, in 184 days", "serviced blue tractor on 20 Jul 2026 at 4\u2009812.4 h: oil", "every 250.0 h, or every 6 months, whichever comes first")
	w.operator.get("/machines").mustShow(t, 200, "No service is due within 50.0 h of running or 14 days.")
	w.contractor.post("/machines/1/edit", with(dated, "service_every_months", "0")...).mustShow(t, 422, "0 is outside what is possible")
}

func TestTimeLostIsNotEnteredTwice(t *testing.T) {
	w := machined(t)
	paced := append(with(machineForm, "kind", "tractor"), "speed_kmh", "5", "turn_s", "40", "fill_min", "", "efficiency", "65")
	w.contractor.post("/machines/1/edit", paced...).mustShow(t, 422, "leave one of the two out, or the time lost counts twice", `value="65"`)
	w.contractor.post("/machines/1/edit", with(paced, "efficiency", "")...).mustLead(t, "/machines/1?done=kept")
	w.contractor.get("/machines/1").mustShow(t, 200, "5.0 km/h while sowing, a turn 40 s", "How fast it sows", "No day sheet of the last twelve months tells how far it sowed.")
}

func TestWhatPullsAMachineIsOfferedAndShown(t *testing.T) {
	w := machined(t)
	seeder := with(with(machineForm, "name", "seeder"), "pulled_by", "1")
	w.contractor.post("/machines/new", seeder...).mustLead(t, "/machines/2")
	w.contractor.get("/machines/2").mustShow(t, 200, "which pulls or carries it")
	w.contractor.post("/machines/1/edit", with(machineForm, "pulled_by", "2")...).mustShow(t, 422, "Seeder is pulled itself")
	w.contractor.post("/machines/1/owning", owningForm...)
	towed := with(with(owningForm, "fuel_l_per_h", "0"), "labour_per_h", "")
	w.contractor.post("/machines/2/owning", towed...)
	w.contractor.post("/machines/fuel", rateForm("price", "1.797")...)
	w.contractor.get("/machines/2").mustShow(t, 200, "together", "195.25")
	w.contractor.get("/machines/1").mustShow(t, 200, "$195.25 an hour together")
}
