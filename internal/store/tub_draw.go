package store

import (
	"cmp"
	"context"
	"slices"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/mix"
)

// draw is what a tub takes of one lot or medium.
type draw struct {
	kind     job.StockKind
	id       int64
	quantity int64 // g or mL
}

// vessel is how a refusal speaks of what takes seed: its name, the work, and where its lots
// are chosen.
type vessel struct{ name, work, plan string }

var intoTub = vessel{"tub", "mix", "recipe"}

// draws is what a tub takes, in the order in which stock is locked.
func draws(tub mix.Tub) []draw {
	var out []draw
	for _, in := range tub.Ingredient {
		out = append(out, draw{job.LotStock, in.LotID, in.Grams})
	}
	if tub.MediumML > 0 {
		out = append(out, draw{job.MediumStock, tub.ProductID, tub.MediumML})
	}
	slices.SortFunc(out, func(a, b draw) int {
		return cmp.Or(cmp.Compare(a.kind, b.kind), cmp.Compare(a.id, b.id))
	})
	return out
}

// fillTub draws what a tub takes and keeps its ingredients.
func (t tx) fillTub(row tubRow, j job.Job, tub mix.Tub) error {
	for _, d := range draws(tub) {
		if err := t.drawFor(j, job.Movement{Kind: drawn, JobID: j.ID, TubID: row.ID}, d, intoTub); err != nil {
			return err
		}
	}
	for i, in := range tub.Ingredient {
		if err := t.Create(&tubIngredientRow{row.ID, i, in.LotID, in.Grams}).Error; err != nil {
			return err
		}
	}
	return nil
}

// drawFor draws stock for a job by the movement given, and lowers what the job holds back.
func (t tx) drawFor(j job.Job, m job.Movement, d draw, into vessel) error {
	st, err := t.stock(d.kind, d.id)
	if err != nil {
		return err
	}
	if err := st.refuseDraw(j, d.quantity, into); err != nil {
		return err
	}
	if err := t.take(st, m, d.quantity, job.Truck, job.Shed); err != nil {
		return err
	}
	for _, h := range st.held {
		if h.JobID == j.ID {
			return t.setHeld(h, max(0, h.Held-d.quantity))
		}
	}
	return nil
}

// refuseDraw says why a job cannot have as much of a lot or medium, and what to do.
func (st stock) refuseDraw(j job.Job, quantity int64, into vessel) error {
	others := st.heldBack(j.ID)
	switch {
	case st.onHold != "":
		return fault.Conflict("%s is on hold: %s. Choose another lot in the %s of %s, or free this one in the shed first", st.name, st.onHold, into.plan, j.Code)
	case quantity > st.total():
		return fault.Conflict("%s is short: %s on hand, the %s takes %s. Choose another, %s less, or receive more first",
			st.name, amount(st.kind, st.total()), into.name, amount(st.kind, quantity), into.work)
	case quantity > st.total()-others:
		return fault.Conflict("%s is short: %s on hand, of which other jobs hold back %s; the %s takes %s. Choose another, %s less, or receive more first",
			st.name, amount(st.kind, st.total()), amount(st.kind, others), into.name, amount(st.kind, quantity), into.work)
	}
	return nil
}

// UnmixTub empties a job's last tub back: its seed and medium return to where they were
// drawn from, and are held back for the job again as far as it wanted them.
func (s *Store) UnmixTub(ctx context.Context, a job.Act, id int64) error {
	return s.done(ctx, a, "empty a tub back", func(t tx) error {
		row, err := one[tubRow](t.DB, "tub", id)
		if err != nil {
			return err
		}
		j, err := locked[job.Job](t, "job", row.JobID)
		if err != nil {
			return err
		}
		last, _, err := lastTub(t.DB, j.ID)
		if err != nil {
			return err
		}
		if last.ID != id {
			return fault.Conflict("only the last tub of %s can be emptied back, that is tub %d", j.Code, last.Number)
		}
		if err := t.returnTub(row); err != nil {
			return err
		}
		if err := t.set(&tubRow{}, "tub", id, map[string]any{"unmixed_at": t.now}); err != nil {
			return err
		}
		return t.tell("job", j.ID, "emptied tub %d of %s back", row.Number, j.Code)
	})
}

func (t tx) returnTub(row tubRow) error {
	taken, err := all[job.Movement](t.Where("tub_id = ?", row.ID).Order("stock_kind, stock_id, id"))
	if err != nil {
		return err
	}
	return t.giveBack(taken)
}

// giveBack returns what movements drew to where they drew it from, and holds it back again
// for their job.
func (t tx) giveBack(taken []job.Movement) error {
	for _, m := range taken {
		st, err := t.stock(m.StockKind, m.StockID)
		if err != nil {
			return err
		}
		back := job.Movement{Kind: returned, StockKind: m.StockKind, StockID: m.StockID, Place: m.Place,
			Quantity: -m.Quantity, JobID: m.JobID, TubID: m.TubID, DrillLoadID: m.DrillLoadID, Value: -m.Value}
		if err := t.moveAt(back); err != nil {
			return err
		}
		if err := t.holdAgain(st, m.JobID, back.Quantity); err != nil {
			return err
		}
	}
	return nil
}

// holdAgain gives a job its claim back on what came back, never more than it wanted.
func (t tx) holdAgain(st stock, jobID, quantity int64) error {
	claim, ok, err := maybe[job.Held](t.Where("job_id = ? AND stock_kind = ? AND stock_id = ?", jobID, st.kind, st.id))
	if err != nil || !ok {
		return err
	}
	free := st.total() + quantity - st.heldBack(jobID)
	return t.setHeld(claim, max(0, min(claim.Held+quantity, claim.Wanted, free)))
}
