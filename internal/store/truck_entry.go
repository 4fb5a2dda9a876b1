package store

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"gorm.io/gorm/clause"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// truckEntryRow is one entry of the truck as it came in, applied or refused.
type truckEntryRow struct {
	Key      string
	Kind     job.EntryKind
	JobID    int64
	PersonID int64
	PhoneAt  time.Time
	OfficeAt time.Time
	Payload  string // the whole entry, JSON
	Outcome  string // why it was refused; "" when it was applied
	Answer   int64
	UndoneAt *time.Time
}

func (t tx) truckEntryRow(refused string, answer int64) (truckEntryRow, error) {
	e := t.act.Truck
	payload, err := json.Marshal(e)
	return truckEntryRow{e.Key, e.Kind, e.JobID, t.act.PersonID, kept(e.At), t.now, string(payload), refused, answer, nil}, err
}

// keepTruckEntry keeps what the truck sent in the same transaction as what it did.
func (t tx) keepTruckEntry(answer int64) error {
	if t.act.Truck == nil {
		return nil
	}
	row, err := t.truckEntryRow("", answer)
	if err != nil {
		return err
	}
	if err := t.Create(&row).Error; err != nil {
		return err
	}
	if u := t.act.Truck.Undoes; u != nil && u.Key != "" {
		return t.Model(&truckEntryRow{}).Where("key = ?", u.Key).Update("undone_at", t.now).Error
	}
	return nil
}

// TruckEntry is an entry by its key; ok is false when it never came in.
func (s *Store) TruckEntry(ctx context.Context, key string) (e job.KeptEntry, ok bool, err error) {
	row, ok, err := maybe[truckEntryRow](s.write.WithContext(ctx).Where("key = ?", key))
	if err != nil || !ok {
		return e, false, err
	}
	e, err = row.entry()
	return e, err == nil, err
}

// TruckEntries is what the truck entered on a job, in the order in which it came in.
func (s *Store) TruckEntries(ctx context.Context, jobID int64) ([]job.KeptEntry, error) {
	rows, err := all[truckEntryRow](s.reader(ctx).Where("job_id = ?", jobID).Order("office_at, phone_at, key"))
	entries := make([]job.KeptEntry, 0, len(rows))
	for _, row := range rows {
		e, broken := row.entry()
		if broken != nil {
			return nil, broken
		}
		entries = append(entries, e)
	}
	return entries, err
}

func (r truckEntryRow) entry() (e job.KeptEntry, err error) {
	if err := json.Unmarshal([]byte(r.Payload), &e.TruckEntry); err != nil {
		return e, fmt.Errorf("read the truck's entry %s: %w", r.Key, err)
	}
	e.OfficeAt, e.Refused, e.Answer, e.Undone = r.OfficeAt, r.Outcome, r.Answer, r.UndoneAt != nil
	return e, nil
}

// NoteTruckEntry keeps an entry that changes no other noun.
func (s *Store) NoteTruckEntry(ctx context.Context, a job.Act) error {
	return s.done(ctx, a, "note what the truck entered", tx.noteEntry)
}

func (t tx) noteEntry() error {
	if t.act.Truck == nil {
		return fault.Refuse("key", "there is no entry to note")
	}
	j, err := one[job.Job](t.DB, "job", t.act.Truck.JobID)
	if err != nil {
		return err
	}
	return t.tell("job", j.ID, "entered at the truck for %s: %s", j.Code, t.act.Truck.Says())
}

// RefuseTruckEntry keeps an entry that could not be applied, with the reason. The same key
// gets the same answer from then on.
func (s *Store) RefuseTruckEntry(ctx context.Context, a job.Act, reason string) error {
	a.Key = ""
	entry := a.Truck
	a.Truck = nil
	return s.done(ctx, a, "refuse what the truck entered", func(t tx) error {
		t.act.Truck = entry
		row, err := t.truckEntryRow(reason, 0)
		if err != nil {
			return err
		}
		done := t.Clauses(clause.OnConflict{DoNothing: true}).Create(&row)
		if done.Error != nil || done.RowsAffected == 0 {
			return done.Error
		}
		return t.tell("job", entry.JobID, "was refused at the truck, %s: %s", entry.Says(), reason)
	})
}
