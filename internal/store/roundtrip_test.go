package store

import (
	"encoding/json"
	"fmt"
	"reflect"
	"testing"
	"time"

	"rowtally/internal/bill"
	"rowtally/internal/job"
	"rowtally/internal/mix"
	"rowtally/internal/money"
	"rowtally/internal/seed"
)

// filled is a noun with something of its own in every field, so that a field that is lost
// on the way to the store and back shows.
func filled[T any](t *testing.T) T {
	t.Helper()
	var noun T
	n := 0
	fill(t, reflect.ValueOf(&noun).Elem(), &n)
	return noun
}

func fill(t *testing.T, v reflect.Value, n *int) {
	t.Helper()
	*n++
	switch v.Interface().(type) {
	case money.Factor:
		v.Set(reflect.ValueOf(money.MustFactor(fmt.Sprintf("%d.0000000000000000%d0", *n, *n))))
		return
	case time.Time:
		v.Set(reflect.ValueOf(time.Date(2026, 7, *n%28+1, 10, 0, 0, 1000, time.UTC)))
		return
	case []byte:
		v.SetBytes([]byte{0, 255, byte(*n)})
		return
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString(fmt.Sprintf("text %d, ‘Wāng’ ’\x27\"", *n))
	case reflect.Int, reflect.Int64:
		v.SetInt(int64(*n) + 1<<33)
	case reflect.Float64:
		v.SetFloat(float64(*n) + 0.1)
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(t, v.Elem(), n)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		fill(t, v.Index(0), n)
		fill(t, v.Index(1), n)
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() { // what a noun remembers is kept nowhere
				fill(t, v.Field(i), n)
			}
		}
	default:
		t.Fatalf("a %s is kept nowhere yet", v.Type())
	}
}

// same compares by what the nouns write of themselves: two equal decimals may differ inside.
func same(t *testing.T, got, want any) {
	t.Helper()
	g, errGot := json.MarshalIndent(got, "", " ")
	w, errWant := json.MarshalIndent(want, "", " ")
	if errGot != nil || errWant != nil || string(g) != string(w) {
		t.Errorf("a %T came back changed (%v, %v):\n got %s\nwant %s", want, errGot, errWant, g, w)
	}
}

func TestWhatIsKeptComesBackAsItWas(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		for name, keep := range map[string]func(*testing.T, yard){
			"business": businessBack, "farm": farmBack, "paddock": paddockBack, "job": jobBack, "layout": layoutBack,
			"recipe": recipeBack, "rates": ratesBack, "lot": lotBack, "test": testBack, "product": productBack,
			"machine": machineBack, "day sheet": daySheetBack, "owning": owningBack, "fuel rate": fuelRateBack, "catch": catchBack, "tub": tubBack, "paper": paperBack,
			"log": logBack, "sown": sownBack, "storage condition": conditionBack, "document": documentBack, "retest months": retestBack,
			"clean-out": cleanOutBack, "understorey": understoreyBack, "drill load": drillLoadBack, "count": countBack, "measuring": measuringBack, "question": questionBack,
			"costing": costingBack, "cost rates": costRatesBack,
			"terms": termsBack,
		} {
			t.Run(name, func(t *testing.T) {
				here := y
				here.t = t
				keep(t, here)
			})
		}
		sameAloneAsTogether(t, y)
	})
}

func businessBack(t *testing.T, y yard) {
	want := filled[job.Business](t)
	y.must(y.ChangeBusiness(y.ctx, y.act(), want))
	for _, rate := range want.TaxRates {
		y.must(y.ChangeTaxRate(y.ctx, y.act(), rate))
	}
	got, err := y.Business(y.ctx)
	y.must(err)
	same(t, got, want)
}

func farmBack(t *testing.T, y yard) {
	want := filled[job.Farm](t)
	want.ID = y.id(y.AddFarm(y.ctx, y.act(), want))
	got, err := y.Farm(y.ctx, want.ID)
	y.must(err)
	same(t, got, want)
	want = filled[job.Farm](t)
	want.ID, want.Name, want.Note = y.farm, "another name", ""
	y.must(y.ChangeFarm(y.ctx, y.act(), want))
	got, err = y.Farm(y.ctx, y.farm)
	y.must(err)
	same(t, got, want)
}

func paddockBack(t *testing.T, y yard) {
	want := filled[job.Paddock](t)
	want.FarmID = y.farm
	want.ID = y.id(y.AddPaddock(y.ctx, y.act(), want))
	got, err := y.Paddock(y.ctx, want.ID)
	y.must(err)
	same(t, got, want)
}

func jobBack(t *testing.T, y yard) {
	want := filled[job.Job](t)
	want.FarmID, want.PaddockID = y.farm, y.paddock
	want.ID = y.id(y.AddJob(y.ctx, y.act(), want))
	got, err := y.Job(y.ctx, want.ID)
	y.must(err)
	same(t, got, want)
}

func layoutBack(t *testing.T, y yard) {
	for _, bearing := range []float64{12.5, 13.5} {
		want := filled[job.Layout](t)
		want.JobID, want.BearingDeg = y.job, bearing
		y.must(y.KeepLayout(y.ctx, y.act(), want))
		got, ok, err := y.Layout(y.ctx, y.job)
		y.must(err)
		if !ok {
			t.Error("the layout is not there")
		}
		same(t, got, want)
	}
}

func recipeBack(t *testing.T, y yard) {
	second := y.id(y.AddLot(y.ctx, y.act(), lot("R2"), 0))
	for _, species := range []int{2, 1} {
		want := filled[job.Recipe](t)
		want.JobID, want.ProductID, want.Species = y.job, y.medium, want.Species[:species]
		want.LiveBy = job.BySafeSide
		want.Species[0].LotIDs = []int64{second, y.lot}
		if species == 2 {
			want.Species[1].LotIDs, want.Species[1].SharePercents = nil, nil
		}
		y.must(y.KeepRecipe(y.ctx, y.act(), want))
		got, ok, err := y.Recipe(y.ctx, y.job)
		y.must(err)
		if !ok {
			t.Error("the recipe is not there")
		}
		same(t, got, want)
	}
}

func cleanOutBack(t *testing.T, y yard) {
	y.job = y.newJob()
	mixed := tub(y.job, y.lot, 400)
	mixed.ProductID, mixed.MediumML, mixed.MixML = y.medium, 156_000, 160_000
	y.id(y.MixTub(y.ctx, y.act(), mixed))
	want := filled[mix.CleanOut](t)
	want.JobID, want.ProductID, want.PersonID, want.MixML, want.MediumML = y.job, y.medium, y.contractor, 40_000, 39_000
	want.Ingredient = []mix.Ingredient{{LotID: y.lot, Grams: 100}}
	want.ID = y.id(y.CleanOut(y.ctx, y.act(), want))
	got, err := y.CleanOuts(y.ctx, y.job)
	y.must(err)
	same(t, got, []mix.CleanOut{want})
}

func drillLoadBack(t *testing.T, y yard) {
	y.job = y.newJob()
	want := filled[job.DrillLoad](t)
	want.JobID, want.PersonID, want.Lots = y.job, y.contractor, []mix.Ingredient{{LotID: y.lot, Grams: 100}}
	want.ID = y.id(y.LoadDrill(y.ctx, y.act(), want))
	got, err := y.DrillLoads(y.ctx, y.job)
	y.must(err)
	same(t, got, []job.DrillLoad{want})
}

func understoreyBack(t *testing.T, y yard) {
	for _, species := range []int{2, 1} {
		want := filled[job.Understorey](t)
		want.JobID, want.HectaresOf, want.Species = y.job, job.AlleyHa, want.Species[:species]
		want.Species[0].LotIDs, want.Species[0].SharePercents = []int64{y.lot}, []float64{62.5}
		if species == 2 {
			want.Species[1].LotIDs, want.Species[1].SharePercents = nil, nil
		}
		y.must(y.KeepUnderstorey(y.ctx, y.act(), want))
		got, ok, err := y.Understorey(y.ctx, y.job)
		y.must(err)
		if !ok {
			t.Error("the understorey is not there")
		}
		same(t, got, want)
	}
	y.must(y.KeepUnderstorey(y.ctx, y.act(), job.Understorey{JobID: y.job}))
	if _, ok, err := y.Understorey(y.ctx, y.job); ok || err != nil {
		t.Errorf("an understorey taken away is there: %v, %v", ok, err)
	}
}

func ratesBack(t *testing.T, y yard) {
	for range 2 {
		want := filled[[]bill.Rate](t)
		for i := range want {
			want[i].TaxCategory = "Z"
		}
		y.must(y.KeepRates(y.ctx, y.act(), y.job, want))
		got, err := y.Rates(y.ctx, y.job)
		y.must(err)
		for i := range want {
			want[i].ID, want[i].JobID, want[i].Position = got[i].ID, y.job, i+1
		}
		same(t, got, want)
	}
}

func lotBack(t *testing.T, y yard) {
	want := filled[seed.Lot](t)
	want.HoldReason, want.HeldOn = "", ""
	want.ID = y.id(y.AddLot(y.ctx, y.act(), want, 5))
	got, err := y.Lot(y.ctx, want.ID)
	y.must(err)
	same(t, got, want)
	y.must(y.HoldLot(y.ctx, y.act(), want.ID, "2026-05-06", "failed its retest"))
	want = seed.Lot{ID: want.ID, Code: "emptied"}
	y.must(y.ChangeLot(y.ctx, y.act(), want))
	want.HoldReason, want.HeldOn = "failed its retest", "2026-05-06"
	got, err = y.Lot(y.ctx, want.ID)
	y.must(err)
	same(t, got, want)
}

func testBack(t *testing.T, y yard) {
	want := filled[seed.Test](t)
	want.LotID, want.Kind, want.Certificate, want.TestedOn, want.CopiedFrom = y.lot, seed.Tetrazolium, seed.LotCertificate, "2026-07-20", 0
	want.Replicates[0] = seed.Replicate{Seeds: 50, Normal: 17}
	want.Replicates[1] = seed.Replicate{Seeds: 100, Normal: 34}
	want.ID = y.id(y.AddTest(y.ctx, y.act(), want))
	got, err := y.Tests(y.ctx, y.lot)
	y.must(err)
	same(t, got, []seed.Test{want})
}

func conditionBack(t *testing.T, y yard) {
	want := filled[seed.StorageCondition](t)
	want.LotID, want.Since = y.lot, "2026-07-20"
	want.ID = y.id(y.AddStorageCondition(y.ctx, y.act(), want))
	bare := seed.StorageCondition{LotID: y.lot, Since: "2026-07-01", Place: "shed"}
	bare.ID = y.id(y.AddStorageCondition(y.ctx, y.act(), bare))
	got, err := y.StorageConditions(y.ctx, y.lot)
	y.must(err)
	same(t, got, []seed.StorageCondition{bare, want})
	y.must(y.DropStorageCondition(y.ctx, y.act(), bare.ID))
	got, err = y.StorageConditions(y.ctx, 0)
	y.must(err)
	same(t, got, []seed.StorageCondition{want})
}

func documentBack(t *testing.T, y yard) {
	want := filled[seed.Document](t)
	want.LotID, want.Content = y.lot, []byte("%PDF-1.7 \x00\xff certificate")
	want.ID = y.id(y.AddDocument(y.ctx, y.act(), want))
	want.MediaType, want.Bytes, want.SHA256 = seed.PDF, int64(len(want.Content)), hashOf(want.Content)
	want.AddedAt, want.Who = morning.UTC(), "Contractor One"
	got, err := y.Document(y.ctx, want.ID)
	y.must(err)
	same(t, got, want)
	want.Content = nil
	list, err := y.Documents(y.ctx, y.lot)
	y.must(err)
	same(t, list, []seed.Document{want})
}

func retestBack(t *testing.T, y yard) {
	for _, months := range []int{6, 9} {
		y.must(y.SetRetestMonths(y.ctx, y.act(), "Atriplex nummularia", months))
		got, err := y.RetestMonths(y.ctx)
		y.must(err)
		same(t, got, map[string]int{"Atriplex nummularia": months})
		kept, err := y.Lot(y.ctx, y.lot)
		y.must(err)
		if kept.RetestMonths != months {
			t.Errorf("a lot's test counts for %d months, its species' for %d", kept.RetestMonths, months)
		}
	}
}

func productBack(t *testing.T, y yard) {
	want := filled[mix.Product](t)
	want.ID = y.id(y.AddProduct(y.ctx, y.act(), want, 0))
	got, err := y.Product(y.ctx, want.ID)
	y.must(err)
	same(t, got, want)
}

func catchBack(t *testing.T, y yard) {
	want := filled[mix.Catch](t)
	want.JobID = y.job
	want.ID = y.id(y.AddCatch(y.ctx, y.act(), want))
	want.PersonID, want.Withdrawn = y.contractor, false
	got, err := y.Catches(y.ctx, y.job)
	y.must(err)
	same(t, got, []mix.Catch{want})
}

func tubBack(t *testing.T, y yard) {
	second := y.id(y.AddLot(y.ctx, y.act(), lot("T2"), 9))
	want := filled[mix.Tub](t)
	want.JobID, want.ProductID, want.MediumML = y.job, y.medium, 77
	want.Ingredient = []mix.Ingredient{{LotID: second, Grams: 9}, {LotID: y.lot, Grams: 3}}
	want.ID = y.id(y.MixTub(y.ctx, y.act(), want))
	want.PersonID = y.contractor
	got, err := y.Tubs(y.ctx, y.job)
	y.must(err)
	same(t, got, []mix.Tub{want})
}

// paperBack fills every field; the sums have to be right, so those are the example's.
func paperBack(t *testing.T, y yard) {
	want, sums := filled[bill.Paper](t), quote(y.job)
	want.Kind, want.JobID, want.IssuedOn, want.PersonID = bill.Quote, y.job, "2026-07-19", y.contractor
	want.Inclusive, want.Part = false, bill.Progress
	want.Lines, want.NetTotal, want.TaxTotal, want.Total = sums.Lines, sums.NetTotal, sums.TaxTotal, sums.Total
	own, other := &want.Alternatives[0], &want.Alternatives[1]
	own.Letter, own.Settings, own.Cost, own.Offered = "A", "", "", bill.Offered{}
	other.Letter, other.Lines, other.NetTotal, other.TaxTotal, other.Total = "B", quote(y.job).Lines, sums.NetTotal, sums.TaxTotal, sums.Total
	want.Alternative = "" // which one is meant is never stored
	issued := y.issue(want)
	want.SownSheet = "" // read by itself
	want.ID, want.Serial, want.Number, want.Year, want.Revision = issued.ID, 1, "Q2026-0001", 2026, 1
	want.Lines[0].PaperID, want.Lines[0].Position = issued.ID, 1
	for i := range want.Adjusted {
		want.Adjusted[i].PaperID, want.Adjusted[i].Position = issued.ID, i+1
	}
	for i := range want.Lots {
		want.Lots[i].PaperID, want.Lots[i].Position = issued.ID, i+1
	}
	want.IssuedAt, want.SHA256 = morning.UTC(), ""
	same(t, issued, want)
	all, err := y.Papers(y.ctx, y.job)
	y.must(err)
	same(t, all, []bill.Paper{want})
	yes := bill.Acceptance{PaperID: want.ID, Name: "A Farmer", AcceptedAt: morning.UTC(), Address: "192.0.2.7", Alternative: "A"}
	y.must(y.AcceptQuote(y.ctx, y.act(), yes, nil))
	yeses, err := y.Acceptances(y.ctx, y.job)
	y.must(err)
	same(t, yeses, []bill.Acceptance{yes})
}

func logBack(t *testing.T, y yard) {
	want := filled[job.Log](t)
	want.JobID, want.SHA256 = y.job, hashOf(want.Content)
	want.ID = y.id(y.AddLog(y.ctx, y.act(), want))
	content, err := y.LogContent(y.ctx, want.ID)
	y.must(err)
	same(t, content, want.Content)
	want.Content, want.LoadedAt, want.PersonID = nil, morning.UTC(), y.contractor
	got, err := y.Logs(y.ctx, y.job)
	y.must(err)
	same(t, got, []job.Log{want})
}

func sownBack(t *testing.T, y yard) {
	for range 2 {
		want := filled[job.Sown](t)
		want.JobID = y.job
		y.must(y.KeepSown(y.ctx, y.act(), want))
		want.MadeAt = morning.UTC()
		got, ok, err := y.Sown(y.ctx, y.job)
		y.must(err)
		if !ok {
			t.Error("the sown record is not there")
		}
		same(t, got, want)
	}
}
