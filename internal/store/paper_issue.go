package store

import (
	"context"
	"fmt"

	"gorm.io/gorm"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// letters begin the numbers of each kind of paper.
var letters = map[bill.Kind]string{bill.Quote: "Q", bill.Invoice: "T", bill.Adjustment: "A", bill.Estimate: "E", bill.Variation: "V"}

// Papers is the papers of a job in the order of their issue, with their lines and
// particulars and without their files; jobID 0 gives those of every job.
func (s *Store) Papers(ctx context.Context, jobID int64) ([]bill.Paper, error) {
	if jobID == 0 {
		return papers(s.reader(ctx), "1 = 1")
	}
	return papersOf(s.reader(ctx), jobID)
}

func papersOf(db *gorm.DB, jobIDs ...int64) ([]bill.Paper, error) {
	return papers(db, "job_id IN ?", jobIDs)
}

// PaperHeads is the papers of a year's series, in the order of issue, with what a list of
// them says and nothing else: number, farm, paddock, days, row-metres and totals.
func (s *Store) PaperHeads(ctx context.Context, year int) ([]bill.Paper, error) {
	rows, err := all[paperRow](s.reader(ctx).Where("year = ?", year).Order("id").
		Select("id, kind, job_id, year, serial, number, revision, answers_id, answers_number, issued_on, until_on, farm, paddock, season, row_m, net_total, tax_total, total"))
	out := make([]bill.Paper, len(rows))
	for i, r := range rows {
		out[i] = r.paper()
	}
	return out, err
}

// Offers is what became of the quotes, estimates and variations of a year, in one statement.
func (s *Store) Offers(ctx context.Context, year int) (offers []bill.OfferState, err error) {
	err = s.reader(ctx).Raw(`SELECT p.id, EXISTS (SELECT 1 FROM acceptances a WHERE a.paper_id = p.id) AS agreed,
		EXISTS (SELECT 1 FROM papers q WHERE q.job_id = p.job_id AND q.kind = ? AND p.kind = ? AND q.revision > p.revision) AS replaced,
		j.declined_on <> '' AS declined, (SELECT count(*) FROM paper_alternatives o WHERE o.paper_id = p.id) AS alternatives,
		coalesce((SELECT max(a.alternative) FROM acceptances a WHERE a.paper_id = p.id), '') AS taken
		FROM papers p JOIN jobs j ON j.id = p.job_id WHERE p.year = ? AND p.kind IN ? ORDER BY p.id`, bill.Quote, bill.Quote, year, bill.Offers).Scan(&offers).Error
	return offers, err
}

// Issued counts the papers of each year and kind, the newest year first.
func (s *Store) Issued(ctx context.Context) (counts []bill.Issued, err error) {
	err = s.reader(ctx).Raw(`SELECT year, kind, count(*) AS papers, sum(total) AS total FROM papers GROUP BY year, kind ORDER BY year DESC, kind`).Scan(&counts).Error
	return counts, err
}

// Paper is one issued paper.
func (s *Store) Paper(ctx context.Context, id int64) (bill.Paper, error) {
	found, err := papers(s.reader(ctx), "id = ?", id)
	if err != nil {
		return bill.Paper{}, err
	}
	if len(found) == 0 {
		return bill.Paper{}, notHere("paper", id)
	}
	return found[0], nil
}

// IssuePaper gives a paper its number out of the gapless series of its kind and year, and
// keeps it for good. A paper whose lines do not add up to its totals is not issued. An
// invoice of the whole ends the job's claims on stock, and nothing is billed after it; a
// later invoice takes off exactly what the earlier ones billed, and an
// adjustment note must stand on the invoice as it stands now.
func (s *Store) IssuePaper(ctx context.Context, a job.Act, paper bill.Paper) (bill.Paper, error) {
	id, err := s.do(ctx, a, "issue a paper", func(t tx) (int64, error) {
		j, err := locked[job.Job](t, "job", paper.JobID)
		if err != nil {
			return 0, err
		}
		if err := paper.AddsUp(); err != nil {
			return 0, err
		}
		if err := t.refuseSecond(j, paper); err != nil {
			return 0, err
		}
		if err := t.numberPaper(&paper); err != nil {
			return 0, err
		}
		if err := t.keepPaper(&paper); err != nil {
			return 0, err
		}
		if paper.Kind == bill.Invoice && paper.Part == bill.Whole {
			if err := t.release(j.ID); err != nil {
				return 0, err
			}
		}
		return paper.ID, t.tell("paper", paper.ID, "issued the %s %s for %s, %s %s", paper.Kind, paper.Number, j.Code, paper.Currency, paper.Total.Shown())
	})
	if err != nil {
		return bill.Paper{}, err
	}
	return s.Paper(ctx, id)
}

// numberPaper gives a paper its day, number and revision.
func (t tx) numberPaper(p *bill.Paper) error {
	letter, ok := letters[p.Kind]
	if !ok {
		return fault.Refuse("kind", "%q is no kind of paper, choose quote, estimate, variation, invoice or adjustment note", p.Kind)
	}
	if p.IssuedOn == "" {
		p.IssuedOn = unit.DateOf(t.act.Now)
	}
	p.ID, p.IssuedAt, p.Year, p.Revision = 0, t.now, p.IssuedOn.Time().Year(), 0
	if p.PersonID == 0 {
		p.PersonID, p.PersonName = t.act.PersonID, t.act.Who
	}
	if p.Kind == bill.Quote {
		newest, _, err := t.newestQuote(p.JobID)
		if err != nil {
			return err
		}
		p.Revision = newest.Revision + 1
	}
	var err error
	if p.Serial, err = t.next(string(p.Kind), p.Year); err != nil {
		return err
	}
	p.Number = number(letter, p.Year, p.Serial)
	if p.Kind == bill.Invoice {
		p.Reference = bill.PaymentReference(p.Number)
	}
	return nil
}

// number writes a paper's number: "Q2026-0001".
func number(letter string, year int, serial int64) string {
	return fmt.Sprintf("%s%d-%04d", letter, year, serial)
}

func (t tx) newestQuote(jobID int64) (paperRow, bool, error) {
	return maybe[paperRow](t.Where("job_id = ? AND kind = ?", jobID, bill.Quote).Order("revision DESC"))
}

func (t tx) keepPaper(p *bill.Paper) error {
	row := rowOf(*p)
	if err := t.Create(&row).Error; err != nil {
		return err
	}
	p.ID = row.ID
	if p.SownSheet != "" {
		if err := t.Create(&paperSownRow{p.ID, p.SownSheet}).Error; err != nil {
			return err
		}
	}
	for i, line := range p.Lines {
		line.PaperID, line.Position = p.ID, i+1
		if err := t.Create(&line).Error; err != nil {
			return err
		}
	}
	for i, line := range p.Adjusted {
		line.PaperID, line.Position = p.ID, i+1
		if err := t.Create(&line).Error; err != nil {
			return err
		}
	}
	for i, lot := range p.Lots {
		lot.PaperID, lot.Position = p.ID, i+1
		if err := t.Create(&lot).Error; err != nil {
			return err
		}
	}
	if err := t.keepPaperAlternatives(*p); err != nil {
		return err
	}
	for i, particular := range p.Particulars {
		if err := t.Create(&paperParticularRow{p.ID, i + 1, particular}).Error; err != nil {
			return err
		}
	}
	return nil
}
