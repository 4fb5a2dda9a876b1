package store

import (
	"context"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// Photo is one photo with its content.
func (s *Store) Photo(ctx context.Context, id int64) (job.Photo, error) {
	return one[job.Photo](s.reader(ctx), "photo", id)
}

// AddTruckNote keeps a note of the truck with its photo, bare; its answer is the photo's
// number.
func (s *Store) AddTruckNote(ctx context.Context, a job.Act, content []byte) (int64, error) {
	return s.do(ctx, a, "keep a note with its photo", func(t tx) (int64, error) {
		photo, err := job.BarePhoto(content)
		if err != nil {
			return 0, err
		}
		if err := t.noteEntry(); err != nil {
			return 0, err
		}
		photo.JobID, photo.EntryKey, photo.SHA256, photo.AddedAt, photo.Who = t.act.Truck.JobID, t.act.Truck.Key, hashOf(photo.Content), t.now, t.act.Who
		err = t.add(&photo, fault.Conflict("this note has its photo already"))
		return photo.ID, err
	})
}

// DropPhoto takes a photo off; the words of its note stay.
func (s *Store) DropPhoto(ctx context.Context, a job.Act, id int64) error {
	return s.done(ctx, a, "take off a photo", func(t tx) error {
		p, err := one[job.Photo](t.Omit("Content"), "photo", id)
		if err != nil {
			return err
		}
		j, err := one[job.Job](t.DB, "job", p.JobID)
		if err != nil {
			return err
		}
		if err := t.Where("id = ?", id).Delete(&job.Photo{}).Error; err != nil {
			return err
		}
		return t.tell("job", j.ID, "took a photo from the truck off %s", j.Code)
	})
}

// noteRow is a note of the truck with who made it and its photo.
type noteRow struct {
	Of      truckEntryRow `gorm:"embedded"`
	Who     string
	PhotoID *int64
}

// TruckNotes is the notes of the truck on a job that stand, newest first.
func (s *Store) TruckNotes(ctx context.Context, jobID int64) (notes []job.TruckNote, err error) {
	var rows []noteRow
	err = s.reader(ctx).Table("truck_entries AS e").Select("e.*, p.name AS who, f.id AS photo_id").
		Joins("JOIN people AS p ON p.id = e.person_id").Joins("LEFT JOIN photos AS f ON f.entry_key = e.key").
		Where("e.job_id = ? AND e.kind = ? AND e.outcome = '' AND e.undone_at IS NULL", jobID, job.NoteEntry).
		Order("e.office_at DESC, e.phone_at DESC, e.key").Scan(&rows).Error
	for _, row := range rows {
		e, broken := row.Of.entry()
		if broken != nil {
			return nil, broken
		}
		n := job.TruckNote{Key: e.Key, Text: e.Text, At: e.HappenedAt(e.OfficeAt), Who: row.Who, TakenOff: e.PhotoBytes > 0 && row.PhotoID == nil}
		if row.PhotoID != nil {
			n.PhotoID = *row.PhotoID
		}
		notes = append(notes, n)
	}
	return notes, err
}
