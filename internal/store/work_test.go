package store

import (
	"fmt"
	"testing"
	"time"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/machine"
	"rowtally/internal/mix"
	"rowtally/internal/unit"
)

func TestAMeterOnlyRunsForward(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s) // the tractor stands at 1 000.0 h, read on 1 July
		a := y.act()
		refused(t, s.ReadMeter(y.ctx, a, y.tractor, 59_999, "2026-07-20"), fault.Refused, "meter_min", "of tractor stood at 1\u2009000.0 h on 1 Jul 2026")
		refused(t, s.ReadMeter(y.ctx, a, y.tractor, 60_001, "2026-06-30"), fault.Refused, "meter_on", "enter that day or a later one")
		y.must(s.ReadMeter(y.ctx, a, y.tractor, 60_030, "2026-07-02"))
		y.must(s.ReadMeter(y.ctx, a, y.tractor, 60_030, "2026-07-02"))
		refused(t, s.CorrectMeter(y.ctx, a, y.tractor, 60_006, "2026-07-02", ""), fault.Refused, "why", "enter what was wrong")
		y.must(s.CorrectMeter(y.ctx, a, y.tractor, 60_006, "2026-07-02", "a 3 read as a 0"))
		m, err := s.Machine(y.ctx, y.tractor)
		y.must(err)
		if m.MeterMin != 60_006 || m.MeterOn != "2026-07-02" {
			t.Errorf("the meter is %+v", m)
		}
		m.MeterMin, m.MeterOn, m.Rows = 5, "2020-01-01", 2
		y.must(s.ChangeMachine(y.ctx, a, m))
		machines, err := s.Machines(y.ctx)
		y.must(err)
		if len(machines) != 1 || machines[0].MeterMin != 60_006 || machines[0].MeterOn != "2026-07-02" || machines[0].Rows != 2 {
			t.Errorf("the machines are %+v", machines)
		}
	})
}

func TestADaySheetMovesTheMeterForwardAndNeverBack(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		add := func(day int, from, to int64) error {
			return second(s.AddDaySheet(y.ctx, y.act(), machine.DaySheet{JobID: y.job, MachineID: y.tractor,
				Day: unit.Date(fmt.Sprintf("2026-07-%02d", day)), MeterFromMin: from, MeterToMin: to}))
		}
		y.must(add(10, 60_000, 60_480))
		y.must(add(3, 59_700, 60_000))
		refused(t, add(11, 60_480, 60_000), fault.Refused, "meter_to_min", "went from 1\u2009008.0 h back to 1\u2009000.0 h")
		m, err := s.Machine(y.ctx, y.tractor)
		y.must(err)
		if m.MeterMin != 60_480 || m.MeterOn != "2026-07-10" {
			t.Errorf("the meter stands at %d min on %s, want 60 480 on 10 July", m.MeterMin, m.MeterOn)
		}
		sheets, err := s.DaySheets(y.ctx, 0)
		y.must(err)
		if len(sheets) != 2 || sheets[0].Day != "2026-07-03" || sheets[1].RunMin() != 480 {
			t.Errorf("the day sheets are %+v", sheets)
		}
	})
}

// One drive counts once: what a machine pulls has no row-km of its own on the same day.
func TestRowKmOfADriveAreToldOnce(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		seeder := y.id(s.AddMachine(y.ctx, y.act(), machine.Machine{Name: "seeder", Rows: 2, PulledByID: y.tractor}))
		add := func(machineID int64, day unit.Date, rowM float64) error {
			return second(s.AddDaySheet(y.ctx, y.act(), machine.DaySheet{JobID: y.job, MachineID: machineID, Day: day, MeterFromMin: 60_000, MeterToMin: 60_000, RowM: rowM}))
		}
		y.must(add(y.tractor, "2026-07-10", 9000))
		refused(t, add(seeder, "2026-07-10", 9000), fault.Refused, "row_km", "the sheet of tractor tells the row-km of 10 Jul 2026 already")
		y.must(add(seeder, "2026-07-10", 0))
		y.must(add(y.tractor, "2026-07-10", 500))
		y.must(add(seeder, "2026-07-11", 9000))
		refused(t, add(y.tractor, "2026-07-11", 9000), fault.Refused, "row_km", "the sheet of seeder tells")
	})
}

func TestACatchTestStaysInTheListWhenItIsWithdrawn(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		later := y.id(s.AddCatch(y.ctx, y.act(), mix.Catch{JobID: y.job, CaughtML: 58, RunM: 3}))
		y.id(s.AddCatch(y.ctx, y.act(), mix.Catch{JobID: y.job, CaughtML: 45, RunM: 3, CaughtAt: morning.Add(-time.Hour)}))
		y.must(s.WithdrawCatch(y.ctx, y.act(), later))
		refused(t, s.WithdrawCatch(y.ctx, y.act(), later), fault.Clash, "", "withdrawn already")
		catches, err := s.Catches(y.ctx, y.job)
		y.must(err)
		if len(catches) != 2 || catches[0].CaughtML != 45 || catches[0].Withdrawn || !catches[1].Withdrawn || !catches[1].CaughtAt.Equal(morning) {
			t.Errorf("the catch tests are %+v", catches)
		}
	})
}

func TestALogIsLoadedOnceAndStaysUnderAnInvoice(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		log := job.Log{JobID: y.job, Name: "day 1.gpx", Format: "gpx", Content: []byte("<gpx/>")}
		first := y.id(s.AddLog(y.ctx, y.act(), log))
		log.Name = "copy of day 1.gpx"
		refused(t, second(s.AddLog(y.ctx, y.act(), log)), fault.Clash, "", "already loaded for J-01")
		log.JobID = y.newJob()
		y.id(s.AddLog(y.ctx, y.act(), log))
		y.must(s.KeepSown(y.ctx, y.act(), job.Sown{JobID: y.job, SownM: 24_000}))
		y.must(s.RemoveLog(y.ctx, y.act(), first))
		if _, ok, err := s.Sown(y.ctx, y.job); ok || err != nil {
			t.Errorf("the sown record outlived its log: %v, %v", ok, err)
		}
		log.JobID = y.job
		again := y.id(s.AddLog(y.ctx, y.act(), log))
		y.issue(invoice(y.job))
		refused(t, s.RemoveLog(y.ctx, y.act(), again), fault.Clash, "", "the invoice T2026-0001 rests on the logs of J-01")
		logs, err := s.Logs(y.ctx, 0)
		y.must(err)
		if len(logs) != 2 || logs[0].Content != nil {
			t.Errorf("the logs are %+v", logs)
		}
		y.sound()
	})
}

func TestAMachineIsPulledByOneThatGoesByItself(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		seeder := machine.Machine{Name: "seeder", PulledByID: y.tractor}
		seeder.ID = y.id(y.AddMachine(y.ctx, y.act(), seeder))
		_, err := y.AddMachine(y.ctx, y.act(), machine.Machine{Name: "roller", PulledByID: seeder.ID})
		refused(t, err, fault.Refused, "pulled_by_id", "seeder is pulled itself")
		itself := seeder
		itself.PulledByID = seeder.ID
		refused(t, y.ChangeMachine(y.ctx, y.act(), itself), fault.Refused, "pulled_by_id", "cannot pull itself")
		other := y.id(y.AddMachine(y.ctx, y.act(), machine.Machine{Name: "loader"}))
		refused(t, y.ChangeMachine(y.ctx, y.act(), machine.Machine{ID: y.tractor, Name: "tractor", PulledByID: other}), fault.Refused, "pulled_by_id", "pulls another machine")
	})
}

func TestFiguresThatMakeNoHourAreNotKept(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		y.must(y.KeepOwning(y.ctx, y.act(), owning(y.tractor)))
		wrong := owning(y.tractor)
		wrong.KeepYears, wrong.RepairClass = 0, "Plough"
		err := y.KeepOwning(y.ctx, y.act(), wrong)
		refused(t, err, fault.Refused, "keep_years", "0.01 to 100")
		refused(t, err, fault.Refused, "repair.machine_class", "leave one out")
		got, err := y.Machine(y.ctx, y.tractor)
		y.must(err)
		same(t, *got.Owning, owning(y.tractor))
	})
}

func TestTheYardKnowsTheTwelveMonthsAndWhatSowed(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		seeder := y.id(y.AddMachine(y.ctx, y.act(), machine.Machine{Name: "seeder", PulledByID: y.tractor}))
		y.must(y.KeepRecipe(y.ctx, y.act(), job.Recipe{JobID: y.job, SowerID: seeder}))
		other := y.newJob()
		for i, sheet := range []machine.DaySheet{{JobID: y.job, Day: "2025-07-20"}, {JobID: y.job, Day: "2025-07-21"}, {JobID: other, Day: "2026-07-01"}} {
			sheet.MachineID, sheet.MeterFromMin, sheet.MeterToMin = y.tractor, 60_000+int64(i)*60, 60_060+int64(i)*60
			y.id(y.AddDaySheet(y.ctx, y.act(), sheet))
		}
		yard, err := y.Yard(y.ctx, "2026-07-20")
		y.must(err)
		tractor, _ := yard.Machine(y.tractor)
		sower, _ := yard.Machine(seeder)
		if len(yard.Sheets) != 2 || len(yard.Worked(tractor)) != 2 || len(yard.Worked(sower)) != 1 || yard.Worked(sower)[0].Day != "2025-07-21" {
			t.Errorf("the yard has %d sheets, the tractor %d, the seeder %d", len(yard.Sheets), len(yard.Worked(tractor)), len(yard.Worked(sower)))
		}
		if team := yard.Team(sower); len(team) != 2 || team[0].ID != y.tractor {
			t.Errorf("the seeder works in %d machines", len(team))
		}
	})
}
