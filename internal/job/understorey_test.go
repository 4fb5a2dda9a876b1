package job

import (
	"strings"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/ground"
	"rowtally/internal/seed"
)

const (
	grassID  = 11
	cloverID = 12
)

// betweenRows is a job without rows: 3 kg/ha of a grass as bagged and 2 kg/ha live of an
// inoculated clover whose test found 74 % and 12 % hard, over the scene's paddock.
func betweenRows(t testing.TB) Facts {
	t.Helper()
	f := sceneOf(t, 24)
	f.Layout, f.Recipe, f.Rates = nil, nil, []bill.Rate{rate("Drilling", "ha", "22", "46.00")}
	grass, grassTest := lotOf(grassID, "U26-01", "Puccinellia ciliata", 96, 0.20, "14.50", [4]int{80, 83, 79, 82}, "2026-01-12")
	clover, cloverTest := lotOf(cloverID, "U26-03", "Trifolium michelianum", 98, 0.90, "11", [4]int{73, 76, 72, 75}, "2026-02-03")
	for i := range cloverTest.Replicates {
		r := &cloverTest.Replicates[i]
		r.Abnormal, r.Hard, r.Fresh, r.Dead = new(0), new(12), new(0), new(88-r.Normal)
	}
	grass.Layer, clover.Layer = seed.Understorey, seed.Understorey
	grass.CommonName, clover.CommonName = "puccinellia", "balansa clover"
	f.Shelf.Lots = append(f.Shelf.Lots, grass, clover)
	f.Shelf.Tests[grassID], f.Shelf.Tests[cloverID] = []seed.Test{grassTest}, []seed.Test{cloverTest}
	f.Shelf.Balances = append(f.Shelf.Balances, Balance{LotStock, grassID, Shed, 262_000}, Balance{LotStock, cloverID, Shed, 55_000})
	f.Understorey = &Understorey{JobID: 3, HectaresOf: GrossHa, Species: []UnderstoreySpecies{
		{Species: "Puccinellia ciliata", RateKgPerHa: 3, LotIDs: []int64{grassID}},
		{Species: "Trifolium michelianum", RateKgPerHa: 2, RateIsLive: true, CountHard: true, InoculantGroup: "C", InoculantGPerKg: 10, InoculantHours: 24, LotIDs: []int64{cloverID}},
	}}
	return f
}

func TestTheUnderstoreyOverGrossHectares(t *testing.T) {
	f := betweenRows(t)
	ha := ground.WGS84.Extent(shapeOf(t, f.Paddock)).AreaM2 / 1e4
	w, err := f.WorkUnderstorey()
	if err != nil {
		t.Fatal(err)
	}
	grass, clover := w.Species[0].Lots[0], w.Species[1].Lots[0]
	if !near(w.Ha, ha, 6) || !near(grass.Kg, 3*ha, 6) || !near(clover.Kg, 2*ha/(0.98*(0.74+0.12)), 6) {
		t.Errorf("over %v ha %v and %v kg", w.Ha, grass.Kg, clover.Kg)
	}
	if !near(w.Species[1].InoculantG, 10*clover.Kg, 6) || w.Refusal != "" || len(w.Short) != 0 {
		t.Errorf("%v g of inoculant, refused %q, short %v", w.Species[1].InoculantG, w.Refusal, w.Short)
	}
	f.Understorey.Species[1].CountHard = false
	if w, err = f.WorkUnderstorey(); err != nil || !near(w.Species[1].Lots[0].Kg, 2*ha/(0.98*0.74), 6) {
		t.Errorf("hard seed not counted: %v kg, %v", w.Species[1].Lots[0].Kg, err)
	}
}

func shapeOf(t testing.TB, p Paddock) ground.Shape {
	t.Helper()
	survey, err := Survey(p)
	if err != nil {
		t.Fatal(err)
	}
	return survey.Shape
}

func TestTheUnderstoreyOverAlleys(t *testing.T) {
	f := betweenRows(t)
	f.Understorey.HectaresOf = AlleyHa
	if _, err := f.WorkUnderstorey(); err == nil {
		t.Error("alleys of rows that are not laid were measured")
	}
	f.Layout = twinRows()
	laid, err := f.Rows()
	if err != nil {
		t.Fatal(err)
	}
	w, err := f.WorkUnderstorey()
	if err != nil {
		t.Fatal(err)
	}
	if w.Ha != laid.AlleyHa || !near(w.Species[0].Kg, 3*laid.AlleyHa, 6) {
		t.Errorf("%v ha, %v kg, %v", w.Ha, w.Species[0].Kg, err)
	}
}

func TestTheUnderstoreyIsClaimedWithTheRows(t *testing.T) {
	f := betweenRows(t)
	w, err := f.WorkUnderstorey()
	if err != nil {
		t.Fatal(err)
	}
	got := claimed(t, f)
	if len(got) != 2 || got[stockKey{LotStock, grassID}] != ceil(w.Species[0].Kg*1000) {
		t.Errorf("claims %v", got)
	}
	rows := sceneOf(t, 24)
	f.Layout, f.Recipe = rows.Layout, rows.Recipe
	if got := claimed(t, f); len(got) != 5 {
		t.Errorf("with rows it claims %v, want two lots and the medium beside", got)
	}
	f.Shelf.Lots[len(f.Shelf.Lots)-1].HoldReason = "weevils"
	if got := claimed(t, f); got[stockKey{LotStock, cloverID}] != 0 {
		t.Errorf("a lot on hold is claimed: %v", got)
	}
	if w, _ := f.WorkUnderstorey(); !strings.Contains(w.Refusal, "U26-03 is on hold: weevils") {
		t.Errorf("refused %q", w.Refusal)
	}
}

func TestTheQuoteSaysWhatIsSownBetween(t *testing.T) {
	draft, err := QuoteDraft(betweenRows(t))
	if err != nil {
		t.Fatal(err)
	}
	var text []string
	for _, p := range draft.Particulars {
		text = append(text, p.Heading+": "+p.Text)
	}
	whole := strings.Join(text, "\n")
	for _, says := range []string{"the paddock's gross hectares: puccinellia 3 kg/ha as bagged", "of U26-01, tested 12 Jan 2026 at 81 %",
		"balansa clover 2 kg/ha of pure live seed", "at 74 % and 12 % hard, counted as live", "of group C, 10 g to a kg of seed; sown within 24 h of mixing"} {
		if !strings.Contains(whole, says) {
			t.Errorf("the quote lacks %q: %s", says, whole)
		}
	}
}

func TestTheChainShowsTheUnderstorey(t *testing.T) {
	f := betweenRows(t)
	link := ChainOf(f).Links[4]
	if link.Name != "Understorey" || link.State != Kept || len(link.Working) == 0 || link.Figures[1].Unit != "ha gross" {
		t.Errorf("%+v", link)
	}
	f.Shelf.Balances[len(f.Shelf.Balances)-2].OnHand = 1_000
	if link := ChainOf(f).Links[4]; !strings.Contains(link.Warning, "Lot U26-01 is short") {
		t.Errorf("it warns %q", link.Warning)
	}
}
