package site

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"rowtally/internal/demo"
	"rowtally/internal/job"
	"rowtally/internal/mix"
)

// truckYard is a site in the demo's season, with the operator signed in twice: on two phones.
type truckYard struct {
	town
	first, second *phoneOf
}

// phoneOf is a phone with the day's work on it.
type phoneOf struct {
	*browser
	day  job.TruckDay
	made int
	name string
}

func newTruckYard(t *testing.T) truckYard {
	t.Helper()
	w := bareTown(t)
	if _, err := demo.Build(context.Background(), w.store, func(string) (string, error) { return operatorHash, nil }); err != nil {
		t.Fatal(err)
	}
	people, err := w.store.People(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range people {
		if p.Role == job.Operator {
			y := truckYard{town: w, first: &phoneOf{browser: w.session(p.ID), name: "first"}, second: &phoneOf{browser: w.session(p.ID), name: "second"}}
			y.first.load()
			y.second.load()
			return y
		}
	}
	t.Fatal("the demo has no operator")
	return truckYard{}
}

func (p *phoneOf) load() {
	p.t.Helper()
	answer := p.get("/truck/day.json")
	if answer.status != http.StatusOK {
		p.t.Fatalf("the day's work: %d %s", answer.status, answer.text)
	}
	p.day = job.TruckDay{}
	if err := json.Unmarshal([]byte(answer.text), &p.day); err != nil {
		p.t.Fatal(err)
	}
}

// bore is the job that the tests mix for.
func (p *phoneOf) bore() job.TruckJob {
	for _, j := range p.day.Jobs {
		if j.Facts.Job.Name == "Bore" {
			return j
		}
	}
	p.t.Fatal("Bore is not in the day's work")
	return job.TruckJob{}
}

// entry makes an entry as the phone does.
func (p *phoneOf) entry(kind job.EntryKind) job.TruckEntry {
	p.made++
	at := moment.Add(time.Duration(p.made) * time.Minute)
	return job.TruckEntry{Key: fmt.Sprintf("%s %d", p.name, p.made), Kind: kind, PersonID: p.day.PersonID, JobID: p.bore().Facts.Job.ID, At: at, SentAt: at}
}

// tub is the next tub, as the phone works it out.
func (p *phoneOf) tub() job.TruckEntry {
	p.t.Helper()
	view, err := p.bore().View(nil, p.day.Day, moment)
	if err != nil || view.Tub == nil {
		p.t.Fatalf("no tub: %v %s", err, view.Cannot)
	}
	e := p.entry(job.TubEntry)
	e.Tub = view.Tub
	return e
}

func (p *phoneOf) handIn(e job.TruckEntry) entryAnswer {
	p.t.Helper()
	answer := p.send(p.posted(e))
	if answer.status != http.StatusOK {
		p.t.Fatalf("%s: %d %s", e.Key, answer.status, answer.text)
	}
	var told entryAnswer
	if err := json.Unmarshal([]byte(answer.text), &told); err != nil {
		p.t.Fatal(err)
	}
	return told
}

func (p *phoneOf) posted(e job.TruckEntry) *http.Request {
	body, _ := json.Marshal(e) // an entry always can
	r := httptest.NewRequest(http.MethodPost, "/truck/entries", bytes.NewReader(body))
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Origin", "http://"+host)
	r.Header.Set("X-Form-Token", p.day.Token)
	return r
}

func (y truckYard) tubs(t *testing.T) []mix.Tub {
	t.Helper()
	tubs, err := y.store.Tubs(context.Background(), y.first.bore().Facts.Job.ID)
	if err != nil {
		t.Fatal(err)
	}
	return tubs
}

func TestAnEntrySentTwiceIsAppliedOnce(t *testing.T) {
	y := newTruckYard(t)
	before := len(y.tubs(t))
	e := y.first.tub()
	once, again := y.first.handIn(e), y.first.handIn(e)
	if once.Outcome != entryKept || again != once {
		t.Errorf("answered %+v, then %+v", once, again)
	}
	if now := y.tubs(t); len(now) != before+1 || now[before].Number != e.Tub.Number {
		t.Errorf("%d tubs, want %d", len(now), before+1)
	}
	kept, seen, err := y.store.TruckEntry(context.Background(), e.Key)
	if err != nil || !seen || !kept.At.Equal(e.At) || !kept.OfficeAt.Equal(moment) || kept.Answer == 0 {
		t.Errorf("the office keeps %+v of it (%v, %v)", kept, seen, err)
	}
}

func TestATubMixedOnTwoPhonesIsRefusedOnTheSecond(t *testing.T) {
	y := newTruckYard(t)
	first, second := y.first.tub(), y.second.tub()
	y.first.handIn(first)
	told := y.second.handIn(second)
	next := first.Tub.Number + 1
	want := fmt.Sprintf("Tub %d was mixed on another phone at %s: undo yours, or keep it as tub %d.", first.Tub.Number, moment.In(zoneHere(t)).Format("15:04"), next)
	if told.Outcome != entryRefused || told.NextTub != next || !strings.HasPrefix(told.Told, want[:30]) || !strings.HasSuffix(told.Told, want[len(want)-40:]) {
		t.Errorf("told %+v, want %q and tub %d", told, want, next)
	}
	if again := y.second.handIn(second); again != told {
		t.Errorf("told %+v the second time, first %+v", again, told)
	}
	second.Key = "second, kept as the next"
	second.Tub.Number = told.NextTub
	if told := y.second.handIn(second); told.Outcome != entryKept {
		t.Errorf("kept as tub %d: told %+v", next, told)
	}
	if n := y.tubs(t); n[len(n)-1].Number != next {
		t.Errorf("the last tub is %d, want %d", n[len(n)-1].Number, next)
	}
}

func zoneHere(t *testing.T) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation("Australia/Adelaide")
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

func TestEachEntryIsUndone(t *testing.T) {
	y := newTruckYard(t)
	ctx, p := context.Background(), y.first
	machine := p.day.Machines[0]
	before := fmt.Sprint(y.state(ctx, t, machine.ID))
	meter, fuel := p.entry(job.MeterEntry), p.entry(job.FuelEntry)
	meter.Meter = &job.MeterReading{MachineID: machine.ID, Minutes: machine.MeterMin + 60, WasMin: machine.MeterMin, On: p.day.Day}
	fuel.FuelML = 61_000
	day := p.entry(job.DayEntry)
	day.Day = &p.bore().Facts.DaySheets[0]
	day.Day.Day = p.day.Day
	day.Day.MachineID, day.Day.MeterFromMin, day.Day.MeterToMin = machine.ID, machine.MeterMin, machine.MeterMin+120
	caught := p.entry(job.CatchEntry)
	caught.Catch = &job.CatchTrial{Turns: 10, WheelM: 2.36, CaughtML: [][]float64{{350, 352, 349}, {348, 351, 350}}}
	for _, e := range []job.TruckEntry{p.tub(), fuel, day, caught, p.cleanOut(20_000, true), p.cleanOut(20_000, false)} {
		p.undone(e)
	}
	if after := fmt.Sprint(y.state(ctx, t, machine.ID)); after != before {
		t.Errorf("entered and undone:\n%s\nbefore:\n%s", after, before)
	}
	p.undone(meter)
	if m, err := y.store.Machine(ctx, machine.ID); err != nil || m.MeterMin != machine.MeterMin {
		t.Errorf("the meter stands at %d min, want %d (%v)", m.MeterMin, machine.MeterMin, err)
	}
	p.load()
	if n := len(p.bore().Kept); n != 0 {
		t.Errorf("%d entries still count", n)
	}
}

// undone hands an entry in, then what takes it back, and finds it refused a second time.
func (p *phoneOf) undone(e job.TruckEntry) {
	p.t.Helper()
	if told := p.handIn(e); told.Outcome != entryKept {
		p.t.Fatalf("%s: %+v", e.Kind, told)
	}
	undo := p.entry(job.UndoEntry)
	undo.JobID, undo.Undoes = e.JobID, &job.Undone{Key: e.Key}
	if told := p.handIn(undo); told.Outcome != entryKept {
		p.t.Errorf("undo %s: %+v", e.Kind, told)
	}
	undo.Key += " again"
	if told := p.handIn(undo); told.Outcome != entryRefused || !strings.Contains(told.Told, "undone already") {
		p.t.Errorf("undo %s again: %+v", e.Kind, told)
	}
}

// state is what entries change: stock, tubs, clean-outs, the catch that counts, day sheets, a meter.
func (y truckYard) state(ctx context.Context, t *testing.T, machineID int64) []any {
	t.Helper()
	id := y.first.bore().Facts.Job.ID
	facts, err := y.store.Facts(ctx, id, "2026-07-20")
	if err != nil {
		t.Fatal(err)
	}
	m, err := y.store.Machine(ctx, machineID)
	if err != nil {
		t.Fatal(err)
	}
	counts, _ := facts.Catch()
	return []any{facts.Shelf.Balances, facts.Tubs, facts.CleanOuts, counts, facts.DaySheets, m.MeterMin}
}

func TestWhatCannotBeRightIsRefusedWithAReason(t *testing.T) {
	y := newTruckYard(t)
	p := y.first
	late := p.entry(job.DayEntry)
	late.Day = &p.bore().Facts.DaySheets[0]
	late.Day.Day = "2027-01-01"
	empty, odd := p.entry(job.NoteEntry), p.entry("song")
	lost := p.entry(job.UndoEntry)
	lost.Undoes = &job.Undone{Key: "nobody's"}
	for want, e := range map[string]job.TruckEntry{"still to come": late, "1 to 2000 letters": empty, "no kind of entry": odd, "never reached the office": lost} {
		if told := p.handIn(e); told.Outcome != entryRefused || !strings.Contains(told.Told, want) {
			t.Errorf("%s: told %+v, want %q", e.Kind, told, want)
		}
	}
	theirs := p.tub()
	theirs.PersonID++
	if told := p.handIn(theirs); told.Outcome != entryForeign {
		t.Errorf("somebody else's entry: %+v", told)
	}
	if _, seen, _ := y.store.TruckEntry(context.Background(), theirs.Key); seen {
		t.Error("somebody else's entry is kept")
	}
	broken := p.posted(theirs)
	broken.Body = http.NoBody
	p.send(broken).mustShow(t, http.StatusUnprocessableEntity, "The entry cannot be read.")
}

// TestTheDaysWorkHoldsNoMoney looks for every price, paper and address of the demo.
func TestTheDaysWorkHoldsNoMoney(t *testing.T) {
	y := newTruckYard(t)
	text := y.first.get("/truck/day.json").text
	facts, err := y.store.FactsWhere(context.Background(), "2026-07-20", func(job.Job) bool { return true })
	if err != nil {
		t.Fatal(err)
	}
	farms := map[string]bool{}
	for _, j := range y.first.day.Jobs {
		farms[j.Facts.Farm.Name] = true
	}
	for _, f := range facts {
		secrets := []string{f.Business.ABN, f.Farm.Address, f.Farm.Email, f.Farm.Phone}
		if !farms[f.Farm.Name] {
			secrets = append(secrets, f.Farm.Name)
		}
		for _, p := range f.Papers {
			secrets = append(secrets, p.Number)
		}
		for _, l := range f.Shelf.Lots {
			secrets = append(secrets, `"CostPerKg":"`+l.CostPerKg.Fixed(0)+`"`)
		}
		for _, m := range f.Moved {
			if m.Value != 0 {
				secrets = append(secrets, `"Value":"`+m.Value.String()+`"`)
			}
		}
		for _, secret := range secrets {
			if secret != "" && strings.Contains(text, secret) {
				t.Errorf("the day's work holds %q", secret)
			}
		}
	}
}

// TestTheTruckSeesWhatTheOfficeSees holds the sheet from the trimmed facts against the
// sheet from all of them.
func TestTheTruckSeesWhatTheOfficeSees(t *testing.T) {
	y := newTruckYard(t)
	for _, j := range y.first.day.Jobs {
		facts, err := y.store.Facts(context.Background(), j.Facts.Job.ID, "2026-07-20")
		if err != nil {
			t.Fatal(err)
		}
		office, officeErr := job.MixingSheetOf(facts)
		office.Business = ""
		truck, truckErr := job.SheetAlong(j.Facts, j.Rows)
		truck.Business = ""
		if fmt.Sprint(officeErr) != fmt.Sprint(truckErr) {
			t.Errorf("%s: the office says %v, the truck %v", j.Facts.Job.Name, officeErr, truckErr)
		}
		ours, _ := json.Marshal(office)
		theirs, _ := json.Marshal(truck)
		if !bytes.Equal(ours, theirs) {
			t.Errorf("%s: the office has\n%s\nthe truck\n%s", j.Facts.Job.Name, ours, theirs)
		}
	}
}

func TestTheShellAloneMayCompile(t *testing.T) {
	w := newTown(t)
	shell := w.nobody.get("/truck/out")
	shell.mustShow(t, 200, "One moment")
	if csp := shell.header.Get("Content-Security-Policy"); !strings.Contains(csp, "'wasm-unsafe-eval'") || strings.Contains(csp, "'unsafe-") {
		t.Errorf("the shell's policy is %q", csp)
	}
	if csp := w.operator.get("/truck").header.Get("Content-Security-Policy"); strings.Contains(csp, "eval") {
		t.Errorf("the office's page may compile: %q", csp)
	}
	keeper := w.nobody.get("/truck/sw.js")
	if keeper.header.Get("Service-Worker-Allowed") != "/truck" || keeper.header.Get("Cache-Control") != "no-cache" || !strings.Contains(keeper.text, "/truck/out") {
		t.Errorf("the keeper comes with %v", keeper.header)
	}
	w.nobody.get("/truck/out.webmanifest").mustShow(t, 200, `"start_url":"/truck/out"`, "truck-icon")
}
