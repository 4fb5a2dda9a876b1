package store

import (
	"context"
	"time"

	"gorm.io/gorm"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/mix"
	"rowtally/internal/money"
)

// cleanOutRow is a clean-out without its lots. One that was undone stays in the store, since
// the ledger speaks of it.
type cleanOutRow struct {
	ID        int64
	JobID     int64
	MixML     int64
	MediumML  int64
	ProductID int64
	Kept      bool
	Note      string
	MadeAt    time.Time
	PersonID  int64
	UndoneAt  *time.Time
}

// cleanOutLotRow is what remained of one lot.
type cleanOutLotRow struct {
	CleanOutID int64
	Position   int
	LotID      int64
	Grams      int64
}

// CleanOuts is what remained in the hoppers of a job, oldest first; jobID 0 gives those of
// every job.
func (s *Store) CleanOuts(ctx context.Context, jobID int64) ([]mix.CleanOut, error) {
	return cleanOuts(s.reader(ctx), jobID)
}

func cleanOuts(db *gorm.DB, jobIDs ...int64) ([]mix.CleanOut, error) {
	rows, err := all[cleanOutRow](of(several(db), "job_id", jobIDs...).Where("undone_at IS NULL").Order("made_at, id"))
	if err != nil || len(rows) == 0 {
		return nil, err
	}
	lots, err := all[cleanOutLotRow](of(several(db).Joins("JOIN clean_outs ON clean_outs.id = clean_out_lots.clean_out_id"), "clean_outs.job_id", jobIDs...).
		Order("clean_out_id, position"))
	byCleanOut := map[int64][]mix.Ingredient{}
	for _, l := range lots {
		byCleanOut[l.CleanOutID] = append(byCleanOut[l.CleanOutID], mix.Ingredient{LotID: l.LotID, Grams: l.Grams})
	}
	var out []mix.CleanOut
	for _, r := range rows {
		out = append(out, mix.CleanOut{ID: r.ID, JobID: r.JobID, MixML: r.MixML, MediumML: r.MediumML, ProductID: r.ProductID,
			Kept: r.Kept, Note: r.Note, MadeAt: r.MadeAt, PersonID: r.PersonID, Ingredient: byCleanOut[r.ID]})
	}
	return out, err
}

// CleanOut keeps what remained in the hoppers of a job. What is kept returns to the truck; what
// is thrown away returns too and is written off at once, so that the ledger says where it
// went. More than the job's tubs still hold cannot remain.
func (s *Store) CleanOut(ctx context.Context, a job.Act, c mix.CleanOut) (int64, error) {
	return s.do(ctx, a, "clean out", func(t tx) (int64, error) {
		j, err := locked[job.Job](t, "job", c.JobID)
		if err != nil {
			return 0, err
		}
		if err := t.checkCleanOut(c, j); err != nil {
			return 0, err
		}
		row := cleanOutRow{0, j.ID, c.MixML, c.MediumML, c.ProductID, c.Kept, c.Note, t.orNow(c.MadeAt), t.act.PersonID, nil}
		if err := t.Create(&row).Error; err != nil {
			return 0, err
		}
		for i, in := range c.Ingredient {
			if err := t.Create(&cleanOutLotRow{row.ID, i, in.LotID, in.Grams}).Error; err != nil {
				return 0, err
			}
		}
		what := "threw away"
		if c.Kept {
			what = "took back"
		}
		if err := t.settleRemains(c, 1); err != nil {
			return 0, err
		}
		return row.ID, t.tell("job", j.ID, "%s %s of mix of %s at clean-out%s", what, amount(job.MediumStock, c.MixML), j.Code, because(c.Note))
	})
}

// UndoCleanOut takes a clean-out back that was entered wrong.
func (s *Store) UndoCleanOut(ctx context.Context, a job.Act, id int64) error {
	return s.done(ctx, a, "undo a clean-out", func(t tx) error {
		row, err := locked[cleanOutRow](t, "clean-out", id)
		if err != nil {
			return err
		}
		if row.UndoneAt != nil {
			return fault.Conflict("this clean-out is taken back already")
		}
		lots, err := all[cleanOutLotRow](t.Where("clean_out_id = ?", id).Order("position"))
		if err != nil {
			return err
		}
		c := mix.CleanOut{JobID: row.JobID, MediumML: row.MediumML, ProductID: row.ProductID, Kept: row.Kept}
		for _, l := range lots {
			c.Ingredient = append(c.Ingredient, mix.Ingredient{LotID: l.LotID, Grams: l.Grams})
		}
		if err := t.settleRemains(c, -1); err != nil {
			return err
		}
		if err := t.set(&cleanOutRow{}, "clean-out", id, map[string]any{"undone_at": t.now}); err != nil {
			return err
		}
		return t.tell("job", row.JobID, "took a clean-out of %s back", amount(job.MediumStock, row.MixML))
	})
}

// settleRemains moves what remained through the ledger, forward (1) or back (-1). It is
// worth what the job's tubs drew it for; what a clean-out kept and its undo takes again
// leaves at the average of that day.
func (t tx) settleRemains(c mix.CleanOut, way int64) error {
	for _, d := range draws(mix.Tub{Ingredient: c.Ingredient, MediumML: c.MediumML, ProductID: c.ProductID}) {
		if _, err := t.stock(d.kind, d.id); err != nil {
			return err
		}
		value, err := t.drawnValue(c.JobID, d)
		if err != nil {
			return err
		}
		back := job.Movement{Kind: returned, StockKind: d.kind, StockID: d.id, Place: job.Truck, Quantity: way * d.quantity, JobID: c.JobID, Note: "clean-out",
			Value: money.Cents(way) * value}
		if c.Kept && way < 0 {
			err = t.move(back)
		} else {
			err = t.settle(back, c.Kept, way)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// settle takes remains back into stock and, where they were thrown away, out of it again; an
// undo goes the other way.
func (t tx) settle(back job.Movement, kept bool, way int64) error {
	gone := back
	gone.Kind, gone.Quantity, gone.Value = writtenOff, -back.Quantity, -back.Value
	order := []job.Movement{back, gone}
	if way < 0 {
		order = []job.Movement{gone, back}
	}
	if kept {
		order = []job.Movement{back}
	}
	for _, m := range order {
		if err := t.moveAt(m); err != nil {
			return err
		}
	}
	return nil
}

// drawnValue is what so much of a medium cost the job that drew it, at the average of all its
// draws; 0 for seed.
func (t tx) drawnValue(jobID int64, d draw) (money.Cents, error) {
	if d.kind != job.MediumStock {
		return 0, nil
	}
	var drew job.Movement
	err := t.Raw(`SELECT -coalesce(sum(quantity), 0) AS quantity, -coalesce(sum(value), 0) AS value FROM movements
		WHERE job_id = ? AND stock_kind = ? AND stock_id = ? AND tub_id <> 0`, jobID, d.kind, d.id).Scan(&drew).Error
	return bill.MovedValue(drew.Value, drew.Quantity, d.quantity), err
}

// checkCleanOut refuses what cannot have remained of the job's tubs.
func (t tx) checkCleanOut(c mix.CleanOut, j job.Job) error {
	if c.MixML <= 0 || c.MixML > mostStock || c.MediumML < 0 {
		return fault.Refuse("mix_ml", "%s of mix cannot remain, enter litres above 0", amount(job.MediumStock, c.MixML))
	}
	for _, in := range c.Ingredient {
		left, err := t.sumOf(`SELECT coalesce(sum(i.grams), 0) FROM tub_ingredients i JOIN tubs t ON t.id = i.tub_id WHERE t.job_id = ? AND t.unmixed_at IS NULL AND i.lot_id = ?`,
			`SELECT coalesce(sum(l.grams), 0) FROM clean_out_lots l JOIN clean_outs c ON c.id = l.clean_out_id WHERE c.job_id = ? AND c.undone_at IS NULL AND l.lot_id = ?`, j.ID, in.LotID)
		if err != nil || in.Grams <= 0 || in.Grams > left {
			return outcomeOf(err, fault.Conflict("%s of a lot cannot remain of %s: its tubs hold %s of it that no clean-out has taken yet. Load the page again", amount(job.LotStock, in.Grams), j.Code, amount(job.LotStock, left)))
		}
	}
	left, err := t.sumOf(`SELECT coalesce(sum(medium_ml), 0) FROM tubs WHERE job_id = ? AND unmixed_at IS NULL AND product_id = ?`,
		`SELECT coalesce(sum(medium_ml), 0) FROM clean_outs WHERE job_id = ? AND undone_at IS NULL AND product_id = ?`, j.ID, c.ProductID)
	if err != nil || c.MediumML > left {
		return outcomeOf(err, fault.Conflict("%s of medium cannot remain of %s: its tubs hold %s that no clean-out has taken yet. Load the page again", amount(job.MediumStock, c.MediumML), j.Code, amount(job.MediumStock, left)))
	}
	return nil
}

// outcomeOf is an error of the engine before a sentence for a person.
func outcomeOf(err, otherwise error) error {
	if err != nil {
		return err
	}
	return otherwise
}

// sumOf is what tubs took less what clean-outs gave back.
func (t tx) sumOf(took, gave string, jobID, stockID int64) (int64, error) {
	var a, b int64
	if err := t.Raw(took, jobID, stockID).Scan(&a).Error; err != nil {
		return 0, err
	}
	err := t.Raw(gave, jobID, stockID).Scan(&b).Error
	return a - b, err
}
