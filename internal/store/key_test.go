package store

import (
	"fmt"
	"iter"
	"reflect"
	"testing"
	"time"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/machine"
	"rowtally/internal/mix"
	"rowtally/internal/money"
	"rowtally/internal/seed"
)

var filledParticular = bill.Particular{Heading: "Layout", Text: "twin rows"}

func yesTo(paperID int64) bill.Acceptance { return bill.Acceptance{PaperID: paperID, Name: "A Farmer"} }

type namedAct struct {
	name string
	act  func(job.Act) error
}

// everyAct is one call of every writing method, in an order in which each succeeds. What
// an act gives is looked up by the next ones in the store.
func everyAct(y yard) iter.Seq2[string, func(job.Act) error] {
	s, kind, log := y.Store, job.LotStock, job.Log{JobID: y.job, Name: "x", Format: "gpx", Content: []byte("x")}
	var spareLoad, spareCard, spare, second, catch, logID, link, paper, tubID, reading, question, plan int64
	var credit []bill.Placing
	var billed int64
	give := func(to *int64) func(int64, error) error {
		return func(id int64, err error) error { *to = id; return err }
	}
	acts := []namedAct{
		{"ChangeBusiness", func(a job.Act) error { return s.ChangeBusiness(y.ctx, a, business()) }},
		{"AddPerson", func(a job.Act) error {
			return give(&spare)(s.AddPerson(y.ctx, a, job.Person{Name: "Spare", Role: job.Operator}))
		}},
		{"ChangePassword", func(a job.Act) error { return s.ChangePassword(y.ctx, a, spare, "hash", "") }},
		{"LetGo", func(a job.Act) error { return s.LetGo(y.ctx, a, spare) }},
		{"AddFarm", func(a job.Act) error { return give(&spare)(s.AddFarm(y.ctx, a, job.Farm{Name: "Spare"})) }},
		{"ChangeFarm", func(a job.Act) error { return s.ChangeFarm(y.ctx, a, job.Farm{ID: spare, Name: "Spare 2"}) }},
		{"AddPaddock", func(a job.Act) error {
			return give(&spare)(s.AddPaddock(y.ctx, a, job.Paddock{FarmID: y.farm, Name: "Spare"}))
		}},
		{"ChangePaddock", func(a job.Act) error { return s.ChangePaddock(y.ctx, a, job.Paddock{ID: spare, Name: "Spare 2"}) }},
		{"AddJob", func(a job.Act) error {
			return give(&second)(s.AddJob(y.ctx, a, job.Job{FarmID: y.farm, Name: "Second"}))
		}},
		{"ChangeJob", func(a job.Act) error { return s.ChangeJob(y.ctx, a, job.Job{ID: second, Name: "Second 2"}) }},
		{"Decline", func(a job.Act) error { return s.Decline(y.ctx, a, second, "2026-07-20", "too salty") }},
		{"KeepLayout", func(a job.Act) error { return s.KeepLayout(y.ctx, a, job.Layout{JobID: y.job}) }},
		{"KeepRecipe", func(a job.Act) error { return s.KeepRecipe(y.ctx, a, job.Recipe{JobID: y.job}) }},
		{"AddAlternative", func(a job.Act) error { return s.AddAlternative(y.ctx, a, y.job, "as it stands", "wider alleys") }},
		{"KeepAlternative", func(a job.Act) error {
			return s.KeepAlternative(y.ctx, a, job.Alternative{JobID: y.job, Letter: "B", Name: "20 m alleys", Layout: &job.Layout{JobID: y.job, AlleyM: 20}})
		}},
		{"DropAlternative", func(a job.Act) error { return s.DropAlternative(y.ctx, a, y.job, "B") }},
		{"AddCountPlan", func(a job.Act) error { return give(&plan)(s.AddCountPlan(y.ctx, a, countPlan(y.job))) }},
		{"AddCount", func(a job.Act) error { return give(&second)(s.AddCount(y.ctx, a, countAt(y.job, plan))) }},
		{"WithdrawCount", func(a job.Act) error { return s.WithdrawCount(y.ctx, a, second, "another paddock's") }},
		{"KeepVoids", func(a job.Act) error { return s.KeepVoids(y.ctx, a, y.job, 0.5, 150) }},
		{"KeepUnderstorey", func(a job.Act) error {
			return s.KeepUnderstorey(y.ctx, a, job.Understorey{JobID: y.job, HectaresOf: job.GrossHa, Species: []job.UnderstoreySpecies{{Species: "x"}}})
		}},
		{"KeepRateCard", func(a job.Act) error {
			return give(&spareCard)(s.KeepRateCard(y.ctx, a, bill.Card{Name: "autumn", Rates: []bill.Rate{{Unit: "ha", TaxCategory: "S"}}}))
		}},
		{"KeepInoculants", func(a job.Act) error {
			return s.KeepInoculants(y.ctx, a, []seed.Inoculant{{ForGroup: "C", Product: "x", PackG: 250}})
		}},
		{"DropRateCard", func(a job.Act) error { return s.DropRateCard(y.ctx, a, spareCard) }},
		{"KeepTerms", func(a job.Act) error { return s.KeepTerms(y.ctx, a, job.Terms{JobID: y.job}) }},
		{"DropTerms", func(a job.Act) error { return s.DropTerms(y.ctx, a, y.job) }},
		{"KeepRates", func(a job.Act) error {
			return s.KeepRates(y.ctx, a, y.job, []bill.Rate{{Unit: "km", TaxCategory: "S"}})
		}},
		{"AddLot", func(a job.Act) error { return give(&spare)(s.AddLot(y.ctx, a, lot("D8"), 10)) }},
		{"ChangeLot", func(a job.Act) error { return s.ChangeLot(y.ctx, a, seed.Lot{ID: spare, Code: "D9"}) }},
		{"HoldLot", func(a job.Act) error { return s.HoldLot(y.ctx, a, spare, "2026-07-20", "why") }},
		{"FreeLot", func(a job.Act) error { return s.FreeLot(y.ctx, a, spare) }},
		{"AddTest", func(a job.Act) error {
			return give(&second)(s.AddTest(y.ctx, a, seed.Test{LotID: spare, TestedOn: "2026-02-10", Replicates: make([]seed.Replicate, 4)}))
		}},
		{"AddStorageCondition", func(a job.Act) error {
			return give(&second)(s.AddStorageCondition(y.ctx, a, seed.StorageCondition{LotID: spare, Since: "2026-02-10", Place: "shed"}))
		}},
		{"DropStorageCondition", func(a job.Act) error { return s.DropStorageCondition(y.ctx, a, second) }},
		{"SetRetestMonths", func(a job.Act) error { return s.SetRetestMonths(y.ctx, a, "Maireana brevifolia", 6) }},
		{"AddDocument", func(a job.Act) error {
			return give(&second)(s.AddDocument(y.ctx, a, seed.Document{LotID: spare, Title: "certificate", Content: []byte("%PDF-1.7")}))
		}},
		{"DropDocument", func(a job.Act) error { return s.DropDocument(y.ctx, a, second) }},
		{"SplitLot", func(a job.Act) error { return give(&second)(s.SplitLot(y.ctx, a, y.lot, "D1-B", 20)) }},
		{"BlendLots", func(a job.Act) error {
			return give(&second)(s.BlendLots(y.ctx, a, seed.Lot{Code: "B1"}, []seed.Source{{SourceID: y.lot, Grams: 5}, {SourceID: second, Grams: 5}}))
		}},
		{"AddProduct", func(a job.Act) error { return give(&second)(s.AddProduct(y.ctx, a, mix.Product{Name: "sand"}, 10)) }},
		{"ChangeProduct", func(a job.Act) error { return s.ChangeProduct(y.ctx, a, mix.Product{ID: second, Name: "sand 2"}) }},
		{"Receive", func(a job.Act) error { return s.Receive(y.ctx, a, kind, spare, 100, "") }},
		{"WriteOff", func(a job.Act) error { return s.WriteOff(y.ctx, a, kind, spare, 10, "mice") }},
		{"CountStock", func(a job.Act) error { return s.CountStock(y.ctx, a, kind, spare, job.Shed, 90, "") }},
		{"MoveStock", func(a job.Act) error { return s.MoveStock(y.ctx, a, kind, spare, job.Shed, job.Truck, 10, "") }},
		{"Buy", func(a job.Act) error { return s.Buy(y.ctx, a, second, 1000, 380, "a bag") }},
		{"ChangeTaxRate", func(a job.Act) error {
			return s.ChangeTaxRate(y.ctx, a, bill.TaxRate{FromOn: "2027-07-01", Percent: money.Whole(12), Note: "a page"})
		}},
		{"RemoveTaxRate", func(a job.Act) error { return s.RemoveTaxRate(y.ctx, a, "2027-07-01") }},
		{"KeepCostRates", func(a job.Act) error { return s.KeepCostRates(y.ctx, a, job.CostRates{}) }},
		{"KeepCosting", func(a job.Act) error { return s.KeepCosting(y.ctx, a, job.Costing{JobID: y.job}) }},
		{"AddMachine", func(a job.Act) error { return give(&second)(s.AddMachine(y.ctx, a, machine.Machine{Name: "drill"})) }},
		{"ChangeMachine", func(a job.Act) error {
			return s.ChangeMachine(y.ctx, a, machine.Machine{ID: second, Name: "drill 2"})
		}},
		{"KeepOwning", func(a job.Act) error { return s.KeepOwning(y.ctx, a, owning(second)) }},
		{"KeepService", func(a job.Act) error { return s.KeepService(y.ctx, a, second, "2026-07-20", "oil") }},
		{"AddFuelRate", func(a job.Act) error {
			return give(&spare)(s.AddFuelRate(y.ctx, a, machine.FuelRate{Kind: machine.PriceOfFuel, FromOn: "2026-07-01"}))
		}},
		{"RemoveFuelRate", func(a job.Act) error { return s.RemoveFuelRate(y.ctx, a, spare) }},
		{"ReadMeter", func(a job.Act) error { return s.ReadMeter(y.ctx, a, second, 10, "2026-07-20") }},
		{"CorrectMeter", func(a job.Act) error { return s.CorrectMeter(y.ctx, a, second, 5, "2026-07-20", "why") }},
		{"AddDaySheet", func(a job.Act) error {
			return give(&spare)(s.AddDaySheet(y.ctx, a, machine.DaySheet{JobID: y.job, MachineID: second, Day: "2026-07-20"}))
		}},
		{"RemoveDaySheet", func(a job.Act) error { return s.RemoveDaySheet(y.ctx, a, spare) }},
		{"NoteTruckEntry", func(a job.Act) error {
			a.Truck = &job.TruckEntry{Key: "kept", Kind: job.NoteEntry, JobID: y.job, Text: "gate left open"}
			return s.NoteTruckEntry(y.ctx, a)
		}},
		{"AddTruckNote", func(a job.Act) error {
			a.Truck = &job.TruckEntry{Key: "pictured", Kind: job.NoteEntry, JobID: y.job}
			return give(&spare)(s.AddTruckNote(y.ctx, a, smallPhoto))
		}},
		{"DropPhoto", func(a job.Act) error { return s.DropPhoto(y.ctx, a, spare) }},
		{"RefuseTruckEntry", func(a job.Act) error {
			a.Truck = &job.TruckEntry{Key: "refused", Kind: job.TubEntry, JobID: y.job}
			return s.RefuseTruckEntry(y.ctx, a, "the lot is on hold")
		}},
		{"AddCatch", func(a job.Act) error { return give(&catch)(s.AddCatch(y.ctx, a, mix.Catch{JobID: y.job})) }},
		{"WithdrawCatch", func(a job.Act) error { return s.WithdrawCatch(y.ctx, a, catch) }},
		{"MixTub", func(a job.Act) error { return give(&tubID)(s.MixTub(y.ctx, a, tub(y.job, y.lot, 10))) }},
		{"CleanOut", func(a job.Act) error {
			return give(&second)(s.CleanOut(y.ctx, a, mix.CleanOut{JobID: y.job, MixML: 5, Ingredient: []mix.Ingredient{{LotID: y.lot, Grams: 3}}}))
		}},
		{"LoadDrill", func(a job.Act) error {
			return give(&spareLoad)(s.LoadDrill(y.ctx, a, job.DrillLoad{JobID: y.job, Ha: 2, Lots: []mix.Ingredient{{LotID: y.lot, Grams: 3}}}))
		}},
		{"UndoDrillLoad", func(a job.Act) error { return s.UndoDrillLoad(y.ctx, a, spareLoad) }},
		{"UndoCleanOut", func(a job.Act) error { return s.UndoCleanOut(y.ctx, a, second) }},
		{"UnmixTub", func(a job.Act) error { return s.UnmixTub(y.ctx, a, tubID) }},
		{"AddReading", func(a job.Act) error { return give(&reading)(s.AddReading(y.ctx, a, salt(y.paddock))) }},
		{"WithdrawReading", func(a job.Act) error { return s.WithdrawReading(y.ctx, a, reading, "2026-07-20", "why") }},
		{"IssuePaper", func(a job.Act) error {
			p, err := s.IssuePaper(y.ctx, a, quote(y.job))
			return give(&paper)(p.ID, err)
		}},
		{"KeepCostPlan", func(a job.Act) error { return s.KeepCostPlan(y.ctx, a, paper, job.Cost{}) }},
		{"AcceptQuote", func(a job.Act) error { return s.AcceptQuote(y.ctx, a, yesTo(paper), []job.Held{claim(y.lot, 10)}) }},
		{"Ask", func(a job.Act) error {
			return give(&question)(s.Ask(y.ctx, a, job.Question{JobID: y.job, Row: 7}, job.Word{Name: "the owner", Text: "why is it short?"}))
		}},
		{"Say", func(a job.Act) error {
			return s.Say(y.ctx, a, job.Word{QuestionID: question, Kind: job.Answers, Name: "Contractor One", Text: "the dam"})
		}},
		{"Pay", func(a job.Act) error {
			return give(&second)(s.Pay(y.ctx, a, paid(y.farm, 10_000)))
		}},
		{"AddJob", func(a job.Act) error {
			return give(&billed)(s.AddJob(y.ctx, a, job.Job{FarmID: y.farm, Name: "Billed"}))
		}},
		{"IssuePaper", func(a job.Act) error { _, err := s.IssuePaper(y.ctx, a, invoice(billed)); return err }},
		{"PlaceCredit", func(a job.Act) error {
			if credit == nil {
				credit = y.account().CreditPlacings()
			}
			return s.PlaceCredit(y.ctx, a, y.farm, credit)
		}},
		{"ReclaimStock", func(a job.Act) error { return s.ReclaimStock(y.ctx, a, y.job, []job.Held{claim(y.lot, 20)}) }},
		{"AddLog", func(a job.Act) error { return give(&logID)(s.AddLog(y.ctx, a, log)) }},
		{"KeepSown", func(a job.Act) error { return s.KeepSown(y.ctx, a, job.Sown{JobID: y.job}) }},
		{"KeepMeasuring", func(a job.Act) error { return s.KeepMeasuring(y.ctx, a, job.Measuring{JobID: y.job}) }},
		{"DropMeasuring", func(a job.Act) error { return s.DropMeasuring(y.ctx, a, y.job) }},
		{"RemoveLog", func(a job.Act) error { return s.RemoveLog(y.ctx, a, logID) }},
		{"AddLink", func(a job.Act) error { return s.AddLink(y.ctx, a, y.farm, "token") }},
		{"WithdrawLink", func(a job.Act) error {
			links, err := s.Links(y.ctx, y.farm)
			if err != nil {
				return err
			}
			link = links[0].ID
			return s.WithdrawLink(y.ctx, a, link)
		}},
	}
	return func(yield func(string, func(job.Act) error) bool) {
		for _, a := range acts {
			if !yield(a.name, a.act) {
				return
			}
		}
	}
}

// The list above has every method that takes an act, so that a new one cannot be left out.
func TestEveryActIsListed(t *testing.T) {
	listed := map[string]bool{"Begin": true} // the yard begins with it
	for name := range everyAct(yard{}) {
		listed[name] = true
	}
	methods := reflect.TypeFor[*Store]()
	for i := range methods.NumMethod() {
		m := methods.Method(i)
		takesAct := m.Type.NumIn() > 2 && m.Type.In(2) == reflect.TypeFor[job.Act]()
		if takesAct && !listed[m.Name] {
			t.Errorf("%s is in no list of acts", m.Name)
		}
	}
}

// Sending any act twice under one key leaves the store as sending it once does.
func TestEveryActSentTwiceIsDoneOnce(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		tables, err := s.write.Migrator().GetTables()
		y.must(err)
		n := 0
		for name, act := range everyAct(y) {
			n++
			a := y.once(fmt.Sprint("key ", n))
			y.must(act(a))
			before := counts(t, s, tables)
			y.must(act(a))
			if after := counts(t, s, tables); !reflect.DeepEqual(after, before) {
				t.Errorf("the second %s changed the store: %v, before %v", name, after, before)
			}
		}
		y.sound()
	})
}

func counts(t *testing.T, s *Store, tables []string) map[string]int64 {
	t.Helper()
	out := map[string]int64{}
	for _, table := range tables {
		out[table] = rowsIn(t, s, table)
	}
	return out
}

func TestARepeatedFormGetsTheFirstAnswer(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		first, err := s.IssuePaper(y.ctx, y.once("one"), quote(y.job))
		y.must(err)
		changed := quote(y.job)
		changed.Reference = "other"
		again, err := s.IssuePaper(y.ctx, y.once("one"), changed)
		y.must(err)
		same(t, again, first)
		y.must(s.Receive(y.ctx, y.once("two"), job.LotStock, y.lot, 5, ""))
		y.must(s.Receive(y.ctx, y.once("two"), job.LotStock, y.lot, 5, ""))
		if grams := y.onHand(job.LotStock, y.lot, job.Shed); grams != 10_005 {
			t.Errorf("%d g on hand, want 10 005", grams)
		}
		refused(t, s.WriteOff(y.ctx, y.once("two"), job.LotStock, y.lot, 5, "x"), fault.Clash, "", "already used to receive stock")
		refused(t, s.WriteOff(y.ctx, y.once("three"), job.LotStock, y.lot, 99_999, "x"), fault.Refused, "quantity", "only")
		y.must(s.WriteOff(y.ctx, y.once("three"), job.LotStock, y.lot, 5, "x"))
		if n := rowsIn(t, s, "keys"); n != 3 {
			t.Errorf("%d keys are kept, want 3", n)
		}
	})
}

// A key outlives every repeat of its form and is then forgotten, with what it did kept.
func TestOldKeysAreForgotten(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		y.must(s.Receive(y.ctx, y.once("old"), job.LotStock, y.lot, 5, ""))
		young := y.once("young")
		young.Now = young.Now.Add(time.Hour)
		y.must(s.Receive(y.ctx, young, job.LotStock, y.lot, 5, ""))
		y.must(s.ForgetKeys(y.ctx, y.act().Now.Add(keysLast)))
		if n := rowsIn(t, s, "keys"); n != 2 {
			t.Errorf("%d keys are left on the last day of the first, want 2", n)
		}
		y.must(s.ForgetKeys(y.ctx, y.act().Now.Add(keysLast+time.Minute)))
		y.must(s.Receive(y.ctx, young, job.LotStock, y.lot, 5, ""))
		if n := rowsIn(t, s, "keys"); n != 1 {
			t.Errorf("%d keys are left, want the young one", n)
		}
		if grams := y.onHand(job.LotStock, y.lot, job.Shed); grams != 10_010 {
			t.Errorf("%d g on hand, want 10 010", grams)
		}
	})
}
