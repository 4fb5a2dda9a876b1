package store

import (
	"context"
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

// morning is the moment of every act in these tests, in a zone with a half hour.
var morning = time.Date(2026, 7, 20, 9, 30, 15, 123_456_000, time.FixedZone("ACST", 9*3600+1800))

// yard is a store with one of each noun in it: 10 kg of a lot, 500 L of a medium.
type yard struct {
	*Store
	t                                                              *testing.T
	ctx                                                            context.Context
	contractor, operator, farm, paddock, job, lot, medium, tractor int64
}

func newYard(t *testing.T, s *Store) yard {
	t.Helper()
	y := yard{Store: s, t: t, ctx: context.Background()}
	y.contractor = y.id(s.Begin(y.ctx, y.act(), business(), job.Person{Name: "Contractor One", PasswordHash: "hash 1"}))
	y.operator = y.id(s.AddPerson(y.ctx, y.act(), job.Person{Name: "Operator One", Role: job.Operator, PasswordHash: "hash 2"}))
	y.farm = y.id(s.AddFarm(y.ctx, y.act(), job.Farm{Name: "First Farm"}))
	y.paddock = y.id(s.AddPaddock(y.ctx, y.act(), job.Paddock{FarmID: y.farm, Name: "Bore"}))
	y.job = y.newJob()
	y.lot = y.id(s.AddLot(y.ctx, y.act(), lot("D1"), 10_000))
	y.medium = y.id(s.AddProduct(y.ctx, y.act(), mix.Product{Name: "vermiculite", BulkDensityKgPerM3: 100}, 500_000))
	y.tractor = y.id(s.AddMachine(y.ctx, y.act(), machine.Machine{Name: "tractor", MeterMin: 60_000, MeterOn: "2026-07-01"}))
	return y
}

func business() job.Business {
	return job.Business{Name: "The Seeders", Currency: "AUD", Zone: "Australia/Adelaide"}
}

func lot(code string) seed.Lot {
	return seed.Lot{Code: code, Species: "Atriplex nummularia", Layer: seed.Shrub, PurityPercent: 90, UnitsPerKg: 80_000, CostPerKg: money.MustFactor("48.00")}
}

// act is an act of the contractor, without a key.
func (y yard) act() job.Act {
	return job.Act{PersonID: y.contractor, Who: "Contractor One", Now: morning}
}

// once is an act of the contractor with a key.
func (y yard) once(key string) job.Act {
	a := y.act()
	a.Key = key
	return a
}

// id takes the answer of an act that must succeed.
func (y yard) id(id int64, err error) int64 {
	y.t.Helper()
	y.must(err)
	if id == 0 {
		y.t.Fatal("the act gave no number")
	}
	return id
}

func (y yard) must(err error) {
	y.t.Helper()
	must(y.t, err)
}

func (y yard) newJob() int64 {
	y.t.Helper()
	return y.id(y.AddJob(y.ctx, y.act(), job.Job{FarmID: y.farm, PaddockID: y.paddock, Season: 2026, AskedOn: "2026-07-01"}))
}

// quote issues a quote of one line for a job.
func (y yard) quote(jobID int64) bill.Paper {
	y.t.Helper()
	return y.issue(quote(jobID))
}

func (y yard) issue(p bill.Paper) bill.Paper {
	y.t.Helper()
	issued, err := y.IssuePaper(y.ctx, y.act(), p)
	y.must(err)
	return issued
}

// agree issues a quote and accepts it with these claims.
func (y yard) agree(jobID int64, claims ...job.Held) bill.Paper {
	y.t.Helper()
	p := y.quote(jobID)
	y.must(y.AcceptQuote(y.ctx, y.act(), bill.Acceptance{PaperID: p.ID, Name: "A Farmer"}, claims))
	return p
}

func quote(jobID int64) bill.Paper {
	return bill.Paper{Kind: bill.Quote, JobID: jobID, UntilOn: "2026-08-20", Currency: "AUD",
		Lines:    []bill.PaperLine{{Description: "rows", Unit: "row-km", Basis: bill.RowKm, Quantity: money.MustFactor("24.8"), UnitPrice: money.MustFactor("105.00"), TaxCategory: "S", TaxPercent: money.MustFactor("10"), Net: 260_400}},
		NetTotal: 260_400, TaxTotal: 26_040, Total: 286_440}
}

func invoice(jobID int64) bill.Paper {
	p := quote(jobID)
	p.Kind = bill.Invoice
	return p
}

// claim is what a job wants of a lot, in g.
func claim(lotID, grams int64) job.Held {
	return job.Held{StockKind: job.LotStock, StockID: lotID, Wanted: grams}
}

// tub is a tub of a job with grams of a lot and no medium.
func tub(jobID, lotID, grams int64) mix.Tub {
	return mix.Tub{JobID: jobID, MixML: 160_000, Ingredient: []mix.Ingredient{{LotID: lotID, Grams: grams}}}
}

// onHand is what lies at a place, in g or mL.
func (y yard) onHand(kind job.StockKind, id int64, place job.Place) int64 {
	y.t.Helper()
	balances, err := y.Balances(y.ctx)
	y.must(err)
	for _, b := range balances {
		if b.Kind == kind && b.ID == id && b.Place == place {
			return b.OnHand
		}
	}
	y.t.Fatalf("%s %d has no balance in the %s", kind, id, place)
	return 0
}

// held is what a job holds back of a lot, in g.
func (y yard) held(jobID, lotID int64) int64 {
	y.t.Helper()
	held, err := y.HeldBack(y.ctx, jobID)
	y.must(err)
	for _, h := range held {
		if h.StockKind == job.LotStock && h.StockID == lotID {
			return h.Held
		}
	}
	return 0
}

// sound checks that the store obeys its laws.
func (y yard) sound() {
	y.t.Helper()
	broken, err := y.Verify(y.ctx)
	y.must(err)
	for _, sentence := range broken {
		y.t.Error("broken law:", sentence)
	}
}

// refused checks that an act failed in a way, for a field, and that its sentence says this.
func refused(t *testing.T, err error, kind fault.Kind, field, says string) {
	t.Helper()
	if fault.KindOf(err) != kind || err == nil {
		t.Fatalf("got %v, want a failure of kind %s", err, kind)
	}
	if field != "" && fault.Fields(err)[field] == "" {
		t.Errorf("%v concerns %v, want %s", err, fault.Fields(err), field)
	}
	if !mention([]string{err.Error()}, says) {
		t.Errorf("the sentence %q does not say %q", err, says)
	}
}
