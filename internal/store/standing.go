package store

import (
	"context"

	"rowtally/internal/bill"
	"rowtally/internal/count"
	"rowtally/internal/job"
	"rowtally/internal/machine"
	"rowtally/internal/mix"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// Standings is of every job, in order of their coming in, only what its stage and whether it
// is past are read off: papers without their lines, yeses, what was paid in all, whether any
// tub or day sheet stands, row metres planned and sown, questions, and that places of a
// count are drawn. However many jobs there are, each noun is read once.
func (s *Store) Standings(ctx context.Context, today unit.Date) ([]job.Facts, error) {
	jobs, err := s.Jobs(ctx, 0)
	if err != nil {
		return nil, err
	}
	facts := make([]job.Facts, len(jobs))
	for i, j := range jobs {
		facts[i] = job.Facts{Today: today, Job: j}
	}
	h := hangOn(s.reader(ctx), facts)
	return facts, sideBySide([]func() error{h.standingPapers, h.standingSown,
		func() error {
			return h.have(`SELECT DISTINCT job_id FROM tubs WHERE unmixed_at IS NULL`, func(f *job.Facts) { f.Tubs = []mix.Tub{{JobID: f.Job.ID}} })
		},
		func() error {
			return h.have(`SELECT DISTINCT job_id FROM day_sheets`, func(f *job.Facts) { f.DaySheets = []machine.DaySheet{{JobID: f.Job.ID}} })
		},
		func() error {
			return h.have(`SELECT DISTINCT job_id FROM count_plans`, func(f *job.Facts) { f.CountPlans = []count.Plan{{JobID: f.Job.ID}} })
		},
		func() error {
			asked, err := questionsOf(h.db, 0)
			for _, q := range asked {
				h.give(q.JobID, func(f *job.Facts) { f.Questions = append(f.Questions, q) })
			}
			return err
		},
	})
}

// give hands a job something; one that came in since the jobs were read is left out.
func (h hung) give(jobID int64, hand func(*job.Facts)) {
	if f := h.at[jobID]; f != nil {
		hand(f)
	}
}

// have hands something to each job whose number a statement gives.
func (h hung) have(statement string, hand func(*job.Facts)) error {
	var ids []int64
	err := h.db.Raw(statement).Scan(&ids).Error
	for _, id := range ids {
		h.give(id, hand)
	}
	return err
}

// standingPaper is a paper with whether it was agreed to and what was paid on it.
type standingPaper struct {
	ID, JobID   int64
	Kind        bill.Kind
	Part        bill.Part
	Total, Paid money.Cents
	Agreed      bool
}

func (h hung) standingPapers() error {
	var papers []standingPaper
	err := h.db.Raw(`SELECT p.id, p.job_id, p.kind, p.part, p.total, a.paper_id IS NOT NULL AS agreed, coalesce(g.paid, 0) AS paid FROM papers p
		LEFT JOIN acceptances a ON a.paper_id = p.id
		LEFT JOIN (SELECT paper_id, sum(amount) AS paid FROM placings GROUP BY paper_id) g ON g.paper_id = p.id
		ORDER BY p.id`).Scan(&papers).Error
	for _, p := range papers {
		h.give(p.JobID, func(f *job.Facts) {
			f.Papers = append(f.Papers, bill.Paper{ID: p.ID, JobID: p.JobID, Kind: p.Kind, Part: p.Part, Total: p.Total})
			if p.Agreed {
				f.Acceptances = append(f.Acceptances, bill.Acceptance{PaperID: p.ID})
			}
			if p.Paid != 0 {
				f.Placed = append(f.Placed, bill.Placing{PaperID: p.ID, Amount: p.Paid})
			}
		})
	}
	return err
}

func (h hung) standingSown() error {
	sown, err := all[job.Sown](h.db.Select("job_id, planned_m, covered_m"))
	for _, r := range sown {
		h.give(r.JobID, func(f *job.Facts) { f.Sown = &r })
	}
	return err
}
