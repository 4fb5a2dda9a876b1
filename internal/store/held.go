package store

import (
	"cmp"
	"context"
	"slices"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// HeldBack is what a job has claimed; jobID 0 gives the claims of every job.
func (s *Store) HeldBack(ctx context.Context, jobID int64) ([]job.Held, error) {
	return all[job.Held](of(s.reader(ctx), "job_id", jobID).Order("job_id, stock_kind, stock_id"))
}

// ReclaimStock puts these claims in the place of an agreed job's earlier ones, after its
// lots or rows changed.
func (s *Store) ReclaimStock(ctx context.Context, a job.Act, jobID int64, claims []job.Held) error {
	return s.done(ctx, a, "hold stock back anew", func(t tx) error {
		j, err := locked[job.Job](t, "job", jobID)
		if err != nil {
			return err
		}
		agreed, err := acceptances(t.DB, jobID)
		if err != nil {
			return err
		}
		if len(agreed) == 0 {
			return fault.Conflict("%s is not agreed yet, stock is held back from the farmer's yes on", j.Code)
		}
		if err := t.claim(jobID, claims); err != nil {
			return err
		}
		return t.tell("job", jobID, "held stock back for %s anew", j.Code)
	})
}

// claim lets go of a job's claims and holds back what is free of the new ones. Lots and
// media are locked in one order, so that two jobs never wait for each other.
func (t tx) claim(jobID int64, claims []job.Held) error {
	earlier, err := all[job.Held](t.Where("job_id = ?", jobID))
	if err != nil {
		return err
	}
	wanted := merged(claims)
	stocks := map[job.Held]stock{}
	for _, c := range merged(append(earlier, claims...)) {
		if stocks[named(c)], err = t.stock(c.StockKind, c.StockID); err != nil {
			return err
		}
	}
	if err := t.release(jobID); err != nil {
		return err
	}
	for _, c := range wanted {
		if c.Wanted < 0 || c.Wanted > mostStock {
			return fault.Refuse("claims", "%s cannot be held back, check the recipe", amount(c.StockKind, c.Wanted))
		}
		st := stocks[named(c)]
		c.JobID = jobID
		c.Held = max(0, min(c.Wanted, st.total()-st.heldBack(jobID)))
		if err := t.Create(&c).Error; err != nil {
			return err
		}
	}
	return nil
}

// named is a claim as the name of what it claims.
func named(c job.Held) job.Held { return job.Held{StockKind: c.StockKind, StockID: c.StockID} }

// merged is the claims with what is wanted of the same lot or medium added up, in the
// order in which stock is locked.
func merged(claims []job.Held) []job.Held {
	wanted := map[job.Held]int64{}
	for _, c := range claims {
		wanted[named(c)] += c.Wanted
	}
	var out []job.Held
	for c, quantity := range wanted {
		c.Wanted = quantity
		out = append(out, c)
	}
	slices.SortFunc(out, func(a, b job.Held) int {
		return cmp.Or(cmp.Compare(a.StockKind, b.StockKind), cmp.Compare(a.StockID, b.StockID))
	})
	return out
}

// release lets go of everything held back for a job.
func (t tx) release(jobID int64) error {
	return t.Where("job_id = ?", jobID).Delete(&job.Held{}).Error
}

// setHeld keeps what is now held back of one claim.
func (t tx) setHeld(h job.Held, held int64) error {
	return t.Model(&job.Held{}).
		Where("job_id = ? AND stock_kind = ? AND stock_id = ?", h.JobID, h.StockKind, h.StockID).
		Update("held", held).Error
}

// shrinkClaims keeps what is held back within what is left: the latest jobs give way.
func (t tx) shrinkClaims(st stock, left int64) error {
	over := st.heldBack(0) - left
	for i := len(st.held) - 1; i >= 0 && over > 0; i-- {
		h := st.held[i]
		part := min(over, h.Held)
		if err := t.setHeld(h, h.Held-part); err != nil {
			return err
		}
		over -= part
	}
	return nil
}
