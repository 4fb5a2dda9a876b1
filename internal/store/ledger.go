package store

import (
	"context"
	"slices"

	"gorm.io/gorm"

	"rowtally/internal/bill"
	"rowtally/internal/job"
)

// Ledgers is what each farm was billed and what it paid, in the order of the farms' names;
// farmID 0 gives every farm.
func (s *Store) Ledgers(ctx context.Context, farmID int64) ([]job.Ledger, error) {
	db := s.reader(ctx)
	farms, err := all[job.Farm](of(db, "id", farmID).Order("lower(name)"))
	if err != nil {
		return nil, err
	}
	out := make([]job.Ledger, len(farms))
	for i, farm := range farms {
		out[i].Farm = farm
	}
	if len(out) == 1 {
		out[0].Account, err = accountOf(db, farms[0].ID)
		return out, err
	}
	return out, fillLedgers(db, out)
}

// OpenLedgers is each farm that was ever billed or paid, with what is open of its account:
// the invoices that are not paid to the cent, with their adjustment notes, and the payments
// that stand on them or on nothing. What is settled is left out, so what is owed, its ageing
// and the credit are those of the whole account.
func (s *Store) OpenLedgers(ctx context.Context) ([]job.Ledger, error) {
	db := s.reader(ctx)
	var farms []job.Farm
	var issued []bill.Paper
	var paid []bill.Payment
	err := sideBySide([]func() error{
		func() (err error) {
			paid, err = payments(db, "id IN (SELECT payment_id FROM placings WHERE paper_id IN ("+openInvoices+")) OR amount <> (SELECT coalesce(sum(g.amount), 0) FROM placings g WHERE g.payment_id = payments.id)")
			return err
		},
		func() (err error) {
			issued, err = paperHeads(db, "id IN ("+openInvoices+") OR kind = ? AND answers_id IN ("+openInvoices+")", bill.Adjustment)
			return err
		},
		func() (err error) {
			farms, err = all[job.Farm](db.Where(`id IN (SELECT j.farm_id FROM jobs j JOIN papers p ON p.job_id = j.id WHERE p.kind IN ?)
				OR id IN (SELECT farm_id FROM payments)`, billed).Order("lower(name)"))
			return err
		},
	})
	if err != nil {
		return nil, err
	}
	out := make([]job.Ledger, len(farms))
	for i, farm := range farms {
		out[i].Farm = farm
	}
	return out, shareOut(db, out, issued, paid)
}

// billed are the kinds of paper that ask for money.
var billed = []bill.Kind{bill.Invoice, bill.Adjustment}

// openInvoices finds the invoices that with their adjustment notes come to more or less than
// what is placed on them.
const openInvoices = `SELECT i.id FROM papers i WHERE i.kind = 'invoice' AND i.total
	+ (SELECT coalesce(sum(a.total), 0) FROM papers a WHERE a.job_id = i.job_id AND a.kind = 'adjustment note' AND a.answers_id = i.id)
	<> (SELECT coalesce(sum(g.amount), 0) FROM placings g WHERE g.paper_id = i.id)`

// fillLedgers reads every account at once.
func fillLedgers(db *gorm.DB, ledgers []job.Ledger) error {
	issued, err := paperHeads(db, "kind NOT IN ?", bill.Offers)
	if err != nil {
		return err
	}
	paid, err := payments(db, "1 = 1")
	if err != nil {
		return err
	}
	return shareOut(db, ledgers, issued, paid)
}

// shareOut puts papers and payments into the accounts of their farms.
func shareOut(db *gorm.DB, ledgers []job.Ledger, issued []bill.Paper, paid []bill.Payment) error {
	farmOf := map[int64]int64{}
	for _, p := range issued {
		farmOf[p.JobID] = 0
	}
	for some := range slices.Chunk(keysOf(farmOf), mostNamed) {
		jobs, err := all[job.Job](db.Select("id, farm_id").Where("id IN ?", some))
		if err != nil {
			return err
		}
		for _, j := range jobs {
			farmOf[j.ID] = j.FarmID
		}
	}
	at := map[int64]*bill.Account{}
	for i := range ledgers {
		at[ledgers[i].Farm.ID] = &ledgers[i].Account
	}
	for _, p := range issued {
		if account := at[farmOf[p.JobID]]; account != nil {
			account.Papers = append(account.Papers, p)
		}
	}
	for _, p := range paid {
		if account := at[p.FarmID]; account != nil {
			account.Payments = append(account.Payments, p)
		}
	}
	return nil
}

func accountOf(db *gorm.DB, farmID int64) (account bill.Account, err error) {
	account.Papers, err = paperHeads(db, "kind NOT IN ? AND job_id IN (SELECT id FROM jobs WHERE farm_id = ?)", bill.Offers, farmID)
	if err != nil {
		return account, err
	}
	account.Payments, err = payments(db, "farm_id = ?", farmID)
	return account, err
}
