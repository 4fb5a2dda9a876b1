package store

import (
	"context"
	"time"

	"gorm.io/gorm"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// paymentRow is a payment without where it was placed.
type paymentRow struct {
	ID         int64
	FarmID     int64
	Kind       bill.PaymentKind
	PaidOn     unit.Date
	Amount     money.Cents
	Way        string
	Reference  string
	Note       string
	ReversesID int64
	EnteredAt  time.Time
	PersonID   int64
	Who        string
	BankKey    string
}

func (r paymentRow) payment() bill.Payment {
	return bill.Payment{ID: r.ID, FarmID: r.FarmID, Kind: r.Kind, PaidOn: r.PaidOn, Amount: r.Amount, Way: r.Way, Reference: r.Reference,
		Note: r.Note, ReversesID: r.ReversesID, EnteredAt: r.EnteredAt, PersonID: r.PersonID, Who: r.Who, BankKey: r.BankKey}
}

// placings is what was paid on the papers of some jobs.
func placings(db *gorm.DB, jobIDs ...int64) ([]bill.Placing, error) {
	return all[bill.Placing](db.Where("paper_id IN (SELECT id FROM papers WHERE job_id IN ?)", jobIDs).Order("id"))
}

// payments reads the payments that a condition on their columns names, in the order in
// which they were entered.
func payments(db *gorm.DB, condition string, args ...any) ([]bill.Payment, error) {
	named := func() *gorm.DB { return db.Session(&gorm.Session{}) }
	rows, err := all[paymentRow](named().Where(condition, args...).Order("id"))
	if err != nil || len(rows) == 0 {
		return nil, err
	}
	placed, err := all[bill.Placing](named().Where("payment_id IN (SELECT id FROM payments WHERE "+condition+")", args...).Order("id"))
	if err != nil {
		return nil, err
	}
	out, at := make([]bill.Payment, len(rows)), map[int64]int{}
	for i, r := range rows {
		out[i], at[r.ID] = r.payment(), i
	}
	for _, p := range placed {
		if i, ok := at[p.PaymentID]; ok {
			out[i].Placings = append(out[i].Placings, p)
		}
	}
	return out, nil
}

// Pay keeps a payment, a reversal or a refund with where its money goes. What the account
// does not allow is refused as bill.Account.Accepts says, by the account as it stands in
// this transaction: two people cannot pay one invoice twice.
func (s *Store) Pay(ctx context.Context, a job.Act, p bill.Payment) (int64, error) {
	return s.do(ctx, a, "enter a payment", func(t tx) (int64, error) {
		farm, err := locked[job.Farm](t, "farm", p.FarmID)
		if err != nil {
			return 0, err
		}
		account, err := accountOf(t.DB, farm.ID)
		if err != nil {
			return 0, err
		}
		if err := account.Accepts(p, t.today()); err != nil {
			return 0, err
		}
		row := paymentRow{FarmID: farm.ID, Kind: p.Kind, PaidOn: p.PaidOn, Amount: p.Amount, Way: p.Way, Reference: p.Reference,
			Note: p.Note, ReversesID: p.ReversesID, EnteredAt: t.now, PersonID: t.act.PersonID, Who: t.act.Who, BankKey: p.BankKey}
		twice := fault.Conflict("this payment is reversed already")
		if p.BankKey != "" {
			twice = fault.Conflict("this line of the bank's file is entered already")
		}
		if err := t.add(&row, twice); err != nil {
			return 0, err
		}
		for _, one := range p.Placings {
			one.ID, one.PaymentID, one.PlacedAt = 0, row.ID, t.now
			if err := t.Create(&one).Error; err != nil {
				return 0, err
			}
		}
		return row.ID, t.tell("farm", farm.ID, "entered a %s of %s for %s", p.Kind, p.Amount.Shown(), farm.Name)
	})
}

// PlaceCredit sets credit of a farm against its invoices: what each payment still has
// unplaced, and what was paid on an invoice beyond what it now asks for. The parts given are
// checked against the account as it stands in this transaction.
func (s *Store) PlaceCredit(ctx context.Context, a job.Act, farmID int64, parts []bill.Placing) error {
	return s.done(ctx, a, "place credit", func(t tx) error {
		farm, err := locked[job.Farm](t, "farm", farmID)
		if err != nil {
			return err
		}
		account, err := accountOf(t.DB, farm.ID)
		if err != nil {
			return err
		}
		if err := account.Allows(parts); err != nil {
			return err
		}
		for _, one := range parts {
			one.ID, one.PlacedAt = 0, t.now
			if err := t.Create(&one).Error; err != nil {
				return err
			}
		}
		return t.tell("farm", farm.ID, "set credit of %s against its invoices", farm.Name)
	})
}

// BankKeys is the bank's lines that payments were entered from.
func (s *Store) BankKeys(ctx context.Context) (map[string]bool, error) {
	rows, err := all[paymentRow](s.reader(ctx).Select("bank_key").Where("bank_key <> ''"))
	keys := make(map[string]bool, len(rows))
	for _, r := range rows {
		keys[r.BankKey] = true
	}
	return keys, err
}
