package store

import (
	"context"

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

// fillLedgers reads every account at once.
func fillLedgers(db *gorm.DB, ledgers []job.Ledger) error {
	jobs, err := all[job.Job](db)
	if err != nil {
		return err
	}
	farmOf := map[int64]int64{}
	for _, j := range jobs {
		farmOf[j.ID] = j.FarmID
	}
	issued, err := paperHeads(db, "kind <> ?", bill.Quote)
	if err != nil {
		return err
	}
	paid, err := payments(db, "1 = 1")
	if err != nil {
		return err
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
	account.Papers, err = paperHeads(db, "kind <> ? AND job_id IN (SELECT id FROM jobs WHERE farm_id = ?)", bill.Quote, farmID)
	if err != nil {
		return account, err
	}
	account.Payments, err = payments(db, "farm_id = ?", farmID)
	return account, err
}
