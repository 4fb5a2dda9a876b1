package store

import (
	"context"
	"time"

	"gorm.io/gorm"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/mix"
)

// drillLoadRow is a load of the drill without its lots. One that was undone stays in the
// store, since the ledger speaks of it.
type drillLoadRow struct {
	ID       int64
	JobID    int64
	Ha       float64
	Note     string
	MadeAt   time.Time
	PersonID int64
	UndoneAt *time.Time
}

// drillLoadLotRow is what went into the drill of one lot.
type drillLoadLotRow struct {
	DrillLoadID int64
	Position    int
	LotID       int64
	Grams       int64
}

// intoDrill is how a refusal speaks of a drill that takes understorey.
var intoDrill = vessel{"drill", "load", "understorey"}

// DrillLoads is what went into the drill for a job, oldest first; jobID 0 gives the loads
// of every job.
func (s *Store) DrillLoads(ctx context.Context, jobID int64) ([]job.DrillLoad, error) {
	return drillLoads(s.reader(ctx), jobID)
}

func drillLoads(db *gorm.DB, jobIDs ...int64) ([]job.DrillLoad, error) {
	rows, err := all[drillLoadRow](of(several(db), "job_id", jobIDs...).Where("undone_at IS NULL").Order("made_at, id"))
	if err != nil || len(rows) == 0 {
		return nil, err
	}
	lots, err := all[drillLoadLotRow](of(several(db).Joins("JOIN drill_loads ON drill_loads.id = drill_load_lots.drill_load_id"), "drill_loads.job_id", jobIDs...).
		Order("drill_load_id, position"))
	byLoad := map[int64][]mix.Ingredient{}
	for _, l := range lots {
		byLoad[l.DrillLoadID] = append(byLoad[l.DrillLoadID], mix.Ingredient{LotID: l.LotID, Grams: l.Grams})
	}
	var out []job.DrillLoad
	for _, r := range rows {
		out = append(out, job.DrillLoad{ID: r.ID, JobID: r.JobID, Ha: r.Ha, Note: r.Note, MadeAt: r.MadeAt, PersonID: r.PersonID, Lots: byLoad[r.ID]})
	}
	return out, err
}

// LoadDrill draws the seed of an understorey into the drill, and lowers what the job holds
// back by as much. A lot that is on hold, or short beside what other jobs hold back, is
// refused, and then nothing is drawn.
func (s *Store) LoadDrill(ctx context.Context, a job.Act, l job.DrillLoad) (int64, error) {
	return s.do(ctx, a, "load the drill", func(t tx) (int64, error) {
		j, err := locked[job.Job](t, "job", l.JobID)
		if err != nil {
			return 0, err
		}
		if err := l.Check(); err != nil {
			return 0, err
		}
		row := drillLoadRow{0, j.ID, l.Ha, l.Note, t.orNow(l.MadeAt), t.act.PersonID, nil}
		if err := t.Create(&row).Error; err != nil {
			return 0, err
		}
		if err := t.fillDrill(row, j, l); err != nil {
			return 0, err
		}
		return row.ID, t.tell("job", j.ID, "loaded the drill for %s with %s of understorey, for %.1f ha%s", j.Code, amount(job.LotStock, l.Grams()), l.Ha, because(l.Note))
	})
}

// fillDrill keeps the lots of a load and draws them in the order in which stock is locked.
func (t tx) fillDrill(row drillLoadRow, j job.Job, l job.DrillLoad) error {
	for i, in := range l.Lots {
		if err := t.Create(&drillLoadLotRow{row.ID, i, in.LotID, in.Grams}).Error; err != nil {
			return err
		}
	}
	for _, d := range draws(mix.Tub{Ingredient: l.Lots}) {
		if err := t.drawFor(j, job.Movement{Kind: drawn, JobID: j.ID, DrillLoadID: row.ID}, d, intoDrill); err != nil {
			return err
		}
	}
	return nil
}

// UndoDrillLoad takes a load back that was entered wrong, or was emptied out of the drill:
// its seed returns to where it was drawn from, and is held back for the job again as far as
// it wanted it.
func (s *Store) UndoDrillLoad(ctx context.Context, a job.Act, id int64) error {
	return s.done(ctx, a, "undo a drill load", func(t tx) error {
		row, err := locked[drillLoadRow](t, "drill load", id)
		if err != nil {
			return err
		}
		if row.UndoneAt != nil {
			return fault.Conflict("this drill load is taken back already")
		}
		j, err := locked[job.Job](t, "job", row.JobID)
		if err != nil {
			return err
		}
		taken, err := all[job.Movement](t.Where("drill_load_id = ?", id).Order("stock_kind, stock_id, id"))
		if err != nil {
			return err
		}
		if err := t.giveBack(taken); err != nil {
			return err
		}
		if err := t.set(&drillLoadRow{}, "drill load", id, map[string]any{"undone_at": t.now}); err != nil {
			return err
		}
		return t.tell("job", j.ID, "took a drill load of %s back, for %.1f ha", j.Code, row.Ha)
	})
}
