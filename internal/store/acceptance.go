package store

import (
	"context"

	"gorm.io/gorm"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// Acceptances is the farmer's yeses to the quotes of a job, oldest first; jobID 0 gives
// those of every job.
func (s *Store) Acceptances(ctx context.Context, jobID int64) ([]bill.Acceptance, error) {
	return acceptances(s.reader(ctx), jobID)
}

func acceptances(db *gorm.DB, jobIDs ...int64) ([]bill.Acceptance, error) {
	return all[bill.Acceptance](of(db.Joins("JOIN papers ON papers.id = acceptances.paper_id"), "papers.job_id", jobIDs...).
		Order("acceptances.paper_id"))
}

// AcceptQuote keeps the farmer's yes to a job's newest quote while it holds, and holds back
// what is free of the stock that the job claims; or the yes to a variation, which claims
// nothing. An older quote, one that has run out, one that is agreed already, a declined job
// and a variation of a job that is billed are clashes.
func (s *Store) AcceptQuote(ctx context.Context, a job.Act, yes bill.Acceptance, claims []job.Held) error {
	return s.done(ctx, a, "accept a quote", func(t tx) error {
		quote, err := one[paperRow](t.DB, "quote", yes.PaperID)
		if err != nil {
			return err
		}
		j, err := locked[job.Job](t, "job", quote.JobID)
		if err != nil {
			return err
		}
		if err := t.refuseYes(quote, j); err != nil {
			return err
		}
		issued, err := papers(t.DB, "id = ?", quote.ID)
		if err != nil {
			return err
		}
		if _, err := issued[0].AgreedBy(yes); err != nil {
			return err
		}
		yes.AcceptedAt = t.orNow(yes.AcceptedAt)
		if err := t.add(&yes, fault.Conflict("the %s %s is agreed already", quote.Kind, quote.Number)); err != nil {
			return err
		}
		if quote.Kind == bill.Quote {
			if err := t.takeAlternative(j, issued[0], yes); err != nil {
				return err
			}
			if err := t.claim(j.ID, claims); err != nil {
				return err
			}
		}
		return t.tell("paper", quote.ID, "accepted the %s %s%s for %s as %s", quote.Kind, quote.Number, yes.InAlternative(), j.Code, yes.Name)
	})
}

// refuseYes says why a quote cannot be accepted, and what to do.
func (t tx) refuseYes(quote paperRow, j job.Job) error {
	if quote.Kind == bill.Variation {
		return t.refuseVariation(quote, j)
	}
	if quote.Kind != bill.Quote {
		return fault.Conflict("%s is no quote, only a quote can be accepted", quote.Number)
	}
	newest, _, err := t.newestQuote(j.ID)
	switch {
	case err != nil:
		return err
	case newest.ID != quote.ID:
		return fault.Conflict("the quote %s was replaced by %s, revision %d: read and accept that one", quote.Number, newest.Number, newest.Revision)
	case j.DeclinedOn != "":
		return fault.Conflict("%s was declined on %s, ask for a new quote", j.Code, j.DeclinedOn)
	case quote.UntilOn != "" && unit.DateOf(t.act.Now) > quote.UntilOn:
		return fault.Conflict("the quote %s held until %s, ask for a new one", quote.Number, quote.UntilOn)
	}
	return nil
}

// refuseVariation says why a variation cannot be accepted any more.
func (t tx) refuseVariation(variation paperRow, j job.Job) error {
	billed, isBilled, err := maybe[paperRow](t.Where("job_id = ? AND kind = ? AND part = ?", j.ID, bill.Invoice, bill.Whole))
	switch {
	case err != nil:
		return err
	case isBilled:
		return fault.Conflict("%s has billed %s without %s, ask the contractor", billed.Number, j.Code, variation.Number)
	case unit.DateOf(t.act.Now) > variation.UntilOn:
		return fault.Conflict("the variation %s held until %s, ask for a new one", variation.Number, variation.UntilOn)
	}
	return nil
}
