// Package demo fills an empty store with an invented season, by the same acts as people
// do: nothing in it is written past the store's own rules. Business, farms, lots, prices
// and logs are invented; it is for showing the program and for no check.
package demo

import (
	"context"
	"crypto/rand"
	"embed"
	"encoding/base64"
	"fmt"
	"time"

	"rowtally/internal/bill"
	"rowtally/internal/job"
	"rowtally/internal/money"
	"rowtally/internal/store"
	"rowtally/internal/unit"
)

// Day is the demo's fixed day.
const Day unit.Date = "2026-07-20"

// zone is where the demo's days are counted.
const zone = "Australia/Adelaide"

//go:embed files
var files embed.FS

// Town is what the demo leaves behind: who may sign in, and the farmers' tokens.
type Town struct {
	People []Login
	Links  []Link
}

// Login is a person of the demo with the password in clear.
type Login struct{ Role, Name, Password string }

// Link is a farmer's link of the demo.
type Link struct{ Farm, Token string }

// builder carries what later parts of the season need of earlier ones.
type builder struct {
	ctx      context.Context
	books    *store.Store
	zone     *time.Location
	failed   error // the first thing that went wrong; everything after it is left out
	boss     int64
	operator int64
	lots     map[string]int64
	media    map[string]int64
	machines map[string]int64
	farms    map[string]int64
	town     Town
}

// Build fills the store, which must be empty. hash turns a password into what is kept.
func Build(ctx context.Context, books *store.Store, hash func(string) (string, error)) (Town, error) {
	place, err := time.LoadLocation(zone)
	if err != nil {
		return Town{}, err
	}
	b := &builder{ctx: ctx, books: books, zone: place,
		lots: map[string]int64{}, media: map[string]int64{}, machines: map[string]int64{}, farms: map[string]int64{}}
	b.people(hash)
	b.shed()
	b.yard()
	b.costRates()
	b.jobs()
	if b.failed != nil {
		return Town{}, fmt.Errorf("build the demo: %w", b.failed)
	}
	return b.town, nil
}

// Now is the demo's moment: the fixed day, at the clock's present time of day.
func Now() time.Time {
	place, err := time.LoadLocation(zone)
	if err != nil {
		place = time.UTC
	}
	clock, day := time.Now().In(place), Day.Time()
	return time.Date(day.Year(), day.Month(), day.Day(), clock.Hour(), clock.Minute(), clock.Second(), clock.Nanosecond(), place)
}

// at is an act of the contractor on a day, at nine in the morning.
func (b *builder) at(day unit.Date) job.Act { return b.actOf(b.boss, contractorName, day) }

func (b *builder) actOf(person int64, who string, day unit.Date) job.Act {
	t := day.Time()
	return job.Act{PersonID: person, Who: who, Now: time.Date(t.Year(), t.Month(), t.Day(), 9, 0, 0, 0, b.zone)}
}

// keep notes the first failure, with what was being done.
func (b *builder) keep(what string, err error) {
	if err != nil && b.failed == nil {
		b.failed = fmt.Errorf("%s: %w", what, err)
	}
}

// add notes an id, or the first failure.
func (b *builder) add(what string, id int64, err error) int64 {
	b.keep(what, err)
	return id
}

const (
	contractorName = "Contractor (demo)"
	operatorName   = "Operator (demo)"
)

func (b *builder) people(hash func(string) (string, error)) {
	word := chance()
	boss, err := hash(word)
	b.keep("hash", err)
	business := job.Business{
		Name: "Samphire Row Seeding (demo)", ABN: "51824753556", Address: "1 Example Road\nExampletown SA 5000",
		Phone: "08 5550 0100", Email: "office@samphire.example", Registered: true, RegisteredOn: "2019-07-01",
		Currency: "AUD", TaxLabel: "GST", TaxPercent: "10", PayTo: "Samphire Row Seeding (demo), BSB 000-000, account 000000000",
		TermsDays: 14, ValidDays: 30, Zone: zone, DemoDay: Day,
	}
	b.boss, err = b.books.Begin(b.ctx, b.actOf(0, contractorName, "2025-06-02"), business,
		job.Person{Name: contractorName, Role: job.Contractor, PasswordHash: boss})
	b.keep("begin", err)
	terms := job.UsualTerms()
	terms.MinimumCharge, terms.StandbyFreeH, terms.StandbyPerH, terms.ExtraPerH = money.MustFactor("1500.00"), 1, money.MustFactor("165.00"), money.MustFactor("210.00")
	b.keep("terms", b.books.KeepTerms(b.ctx, b.at("2025-06-02"), terms))
	_, err = b.books.KeepRateCard(b.ctx, b.at("2025-06-02"), bill.Card{Name: "Twin rows on mounds", Note: "from 2025", Rates: []bill.Rate{
		rate("Set-up and calibration", "each", "1", "380.00"), rate("Travel, float out and back", "driven km", "160", "2.90"),
		rate("Seeding rows on mounds, seed engaged", "row-km", "", "105.00"), rate("Bulking medium placed, 15 L a row-km", "row-km", "", "9.30")}})
	b.keep("rate card", err)
	other := chance()
	hashed, err := hash(other)
	b.keep("hash", err)
	b.operator, err = b.books.AddPerson(b.ctx, b.at("2025-06-02"), job.Person{Name: operatorName, Role: job.Operator, PasswordHash: hashed})
	b.keep("add the operator", err)
	b.town.People = []Login{{string(job.Contractor), contractorName, word}, {string(job.Operator), operatorName, other}}
}

// chance is a password of the demo, new at every reset.
func chance() string {
	raw := make([]byte, 9)
	rand.Read(raw)
	return base64.RawURLEncoding.EncodeToString(raw)
}
