package store

import (
	"slices"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// refuseSecond keeps two people who issue at once from billing a job's rows twice, or from
// adjusting an invoice that the other has just adjusted or taken off a later one. The job is
// locked.
func (t tx) refuseSecond(j job.Job, p bill.Paper) error {
	if p.Kind.Offer() {
		return nil
	}
	issued, err := papers(t.DB, "job_id = ? AND kind NOT IN ?", j.ID, bill.Offers)
	if err != nil {
		return err
	}
	if p.Kind == bill.Adjustment {
		return refuseStale(issued, p)
	}
	for _, earlier := range issued {
		if earlier.Kind == bill.Invoice && earlier.Part == bill.Whole {
			return fault.Conflict("invoice %s has billed %s already, what is billed once is not billed twice: adjust that invoice", earlier.Number, j.Code)
		}
	}
	if !p.Takes(issued) {
		return fault.Conflict("a part of %s was billed meanwhile, load the page again: it takes off what was billed", j.Code)
	}
	return nil
}

// refuseStale refuses an adjustment note that was drawn up before another was issued.
func refuseStale(issued []bill.Paper, p bill.Paper) error {
	for _, later := range issued {
		if slices.ContainsFunc(later.Lines, func(l bill.PaperLine) bool { return l.LessID == p.AnswersID }) {
			return fault.Conflict("%s has taken this invoice off already, adjust %[1]s", later.Number)
		}
	}
	for _, invoice := range issued {
		if invoice.ID != p.AnswersID || invoice.Kind != bill.Invoice {
			continue
		}
		if standsOn(p, bill.StandingOf(invoice, issued)) {
			return nil
		}
		return fault.Conflict("%s was adjusted meanwhile, load the page again: it shows the invoice as it stands now", invoice.Number)
	}
	return fault.Conflict("an adjustment note adjusts an invoice of its own job, open the job and adjust its invoice")
}

// standsOn tells whether an adjustment note begins where its invoice stands.
func standsOn(p bill.Paper, standing bill.Standing) bool {
	return slices.EqualFunc(p.WasLines(), standing.Lines, func(a, b bill.PaperLine) bool {
		return a.Description == b.Description && a.Net == b.Net && a.Quantity.Compare(b.Quantity) == 0 && a.UnitPrice.Compare(b.UnitPrice) == 0
	})
}
