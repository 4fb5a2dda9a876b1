package site

import (
	"context"
	"strings"
	"testing"

	"rowtally/internal/job"
)

// onHand is what lies at a place, in g or mL.
func (w town) onHand(t *testing.T, kind job.StockKind, place job.Place) int64 {
	t.Helper()
	balances, err := w.store.Balances(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range balances {
		if b.Kind == kind && b.Place == place {
			return b.OnHand
		}
	}
	return 0
}

func TestStockComesGoesAndIsCounted(t *testing.T) {
	w := lotted(t) // 64 kg
	back := "/shed/lots/1?done=kept"
	w.contractor.post("/shed/lots/1/stock", "what", received, "quantity", "2.5", "place", "shed").mustLead(t, back)
	w.contractor.post("/shed/lots/1/stock", "what", loaded, "quantity", "13.4", "place", "shed").mustLead(t, back)
	w.contractor.post("/shed/lots/1/stock", "what", unloaded, "quantity", "0.4", "place", "shed").mustLead(t, back)
	w.contractor.post("/shed/lots/1/stock", "what", writtenOff, "quantity", "1", "place", "shed", "note", "mice").mustLead(t, back)
	w.contractor.post("/shed/lots/1/stock", "what", counted, "quantity", "12.9", "place", "truck", "note", "weighed").mustLead(t, back)
	// By hand: shed 64 + 2.5 - 13.4 + 0.4 - 1 = 52.5 kg; truck counted at 12.9 kg.
	if shed, truck := w.onHand(t, job.LotStock, job.Shed), w.onHand(t, job.LotStock, job.Truck); shed != 52_500 || truck != 12_900 {
		t.Errorf("%d g in the shed and %d g on the truck, want 52500 and 12900", shed, truck)
	}
	w.operator.get("/shed/lots/1").mustShow(t, 200, "On hand 65.4 kg, 12.9 kg of it on the truck", "mice", "weighed", "+2.5", "−1.0")
	w.contractor.get("/shed/lots/1/stock").mustShow(t, 200, "On hand 65.4 kg, of it 12.9 kg on the truck")
}

func TestAStockFormSaysWhatToChangeAndKeepsTheRest(t *testing.T) {
	w := lotted(t)
	for _, c := range []struct{ what, quantity, note, says string }{
		{received, "-5", "", "-5 is outside what is possible"},
		{received, "0", "", "0 is outside what is possible"},
		{received, "", "", "Enter a number"},
		{received, "some", "", "“some” is not a number"},
		{writtenOff, "1", "", "Say why"},
		{writtenOff, "70", "mice", "There is only 64.000 kg of D26-01"},
		{counted, "-1", "weighed", "-1 is outside what is possible"},
		{counted, "60", "", "Say why"},
		{loaded, "70", "", "The shed has only 64.000 kg"},
		{unloaded, "1", "", "The truck has only 0.000 kg"},
		{"stolen", "1", "", "Choose one of the list."},
	} {
		p := w.contractor.post("/shed/lots/1/stock", "what", c.what, "quantity", c.quantity, "place", "shed", "note", c.note)
		p.mustShow(t, 422, c.says, `value="`+c.quantity+`"`)
	}
	if shed := w.onHand(t, job.LotStock, job.Shed); shed != 64_000 {
		t.Errorf("%d g after refused forms, want 64000", shed)
	}
}

func TestACountOfNothingIsACount(t *testing.T) {
	w := lotted(t)
	w.contractor.post("/shed/lots/1/stock", "what", counted, "quantity", "0", "place", "shed", "note", "all used").mustLead(t, "/shed/lots/1?done=kept")
	w.contractor.get("/shed").mustShow(t, 200, "Used up: 1")
}

var mediumForm = []string{
	"name", "vermiculite, medium grade", "bulk_density", "88", "bag_l", "100", "cost_per_bag", "38.00",
	"charge_per_l", "0.62", "note", "statement AF-12", "litres", "4 780",
}

func TestAMediumFromTheFirstBagOn(t *testing.T) {
	w := newTown(t)
	w.contractor.post("/shed/media/new", mediumForm...).mustLead(t, "/shed/media/1")
	w.operator.get("/shed/media/1").mustShow(t, 200, "vermiculite, medium grade", "<b>47.8</b> bags", "$38.00 a bag", "$0.62 a litre", "Dust:")
	w.contractor.get("/shed").mustShow(t, 200, "vermiculite, medium grade", "47.8")
	w.contractor.post("/shed/media/1/stock", "what", received, "quantity", "220", "place", "shed").mustLead(t, "/shed/media/1?done=kept")
	if got := w.onHand(t, job.MediumStock, job.Shed); got != 5_000_000 {
		t.Errorf("%d mL on hand, want 5000000", got)
	}
	w.contractor.get("/shed/media/1/edit").mustShow(t, 200, `value="88"`, `value="38"`)
	w.contractor.post("/shed/media/1/edit", with(mediumForm, "bulk_density", "91")...).mustLead(t, "/shed/media/1?done=kept")
	w.contractor.get("/shed/media/1").mustShow(t, 200, ">91<")
}

func TestAMediumFormSaysWhatToChangeAndKeepsTheRest(t *testing.T) {
	w := newTown(t)
	for _, c := range []struct{ field, value, says string }{
		{"name", "", "Enter the product and its grade."},
		{"bulk_density", "0", "0 is outside what is possible"},
		{"bulk_density", "", "Enter a number"},
		{"bag_l", "-1", "-1 is outside what is possible"},
		{"charge_per_l", "x", "“x” is not an amount"},
		{"litres", "-1", "-1 is outside what is possible"},
	} {
		w.contractor.post("/shed/media/new", with(mediumForm, c.field, c.value)...).mustShow(t, 422, c.says, "statement AF-12")
	}
	w.contractor.post("/shed/media/new", mediumForm...).mustLead(t, "/shed/media/1")
	w.contractor.post("/shed/media/new", mediumForm...).mustShow(t, 422, "A medium is called vermiculite, medium grade already")
}

// 100 L at 38.00 a bag and 200 L for 100.01 are 138.01 for 300 L, 0.4600 a litre.
func TestADeliveryOfMediumIsTakenInAtItsCost(t *testing.T) {
	w := newTown(t)
	w.contractor.post("/shed/media/new", "name", "vermiculite", "bulk_density", "96", "bag_l", "100", "cost_per_bag", "38.00", "litres", "100").mustLead(t, "/shed/media/1")
	w.contractor.get("/shed/media/1").mustShow(t, 200, "$38.00, $0.3800 a litre")
	w.contractor.post("/shed/media/1/stock", "what", received, "quantity", "200", "place", "shed", "cost", "100.01").mustLead(t, "/shed/media/1?done=kept")
	w.contractor.get("/shed/media/1").mustShow(t, 200, "$138.01, $0.4600 a litre")
	w.contractor.post("/shed/media/1/stock", "what", received, "quantity", "200", "place", "shed", "cost", "dear").mustRefuse(t, "cost", "is not an amount")
	w.contractor.get("/accounts/bookkeeper/stock-value.csv").mustShow(t, 200, "medium,vermiculite,,300.000,L,0.4600333333,138.01")
	if page := w.operator.get("/shed/media/1").text; strings.Contains(page, "138.01") {
		t.Error("the operator reads what the medium cost")
	}
}
