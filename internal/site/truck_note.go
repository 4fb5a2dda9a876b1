package site

import (
	"context"
	"fmt"

	"github.com/gofiber/fiber/v2"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// noteBooks is the notes of the truck and their photos.
type noteBooks interface {
	TruckNotes(ctx context.Context, jobID int64) ([]job.TruckNote, error)
	Photo(ctx context.Context, id int64) (job.Photo, error)
	DropPhoto(ctx context.Context, act job.Act, id int64) error
}

func (s *site) noteRoutes() []route {
	return []route{
		field(get, "/truck/:id/note", s.truckNote),
		field(post, "/truck/:id/note", s.truckNote),
		field(get, "/jobs/:id/photos/:photo", s.photoShow),
		office(post, "/jobs/:id/photos/:photo/drop", s.photoDrop),
	}
}

type truckNotePage struct {
	truckForm
	Notes []job.TruckNote
}

// truckNote keeps a note with or without a photo; without signal the truck's own page does.
func (s *site) truckNote(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	f := blank(nil)
	if r.isPost() {
		f = readForm(r)
		if err := s.keepNote(r, f, facts.Job.ID); err != nil {
			return err
		}
		if f.ok() {
			return r.see(fmt.Sprintf("%s/note?done=kept", truckPath(facts.Job.ID)))
		}
		r.Status(fiber.StatusUnprocessableEntity)
	}
	page := truckNotePage{truckForm: truckForm{
		Frame: r.frame("truck", "Note, "+facts.Job.Name), Job: facts.Job, Action: r.Path(), Button: "Keep the note", Files: true,
		Fields: f.fields(
			Field{Name: "text", Label: "What is to be remembered", Kind: "textarea"},
			Field{Name: "photo", Label: "Photo", Kind: "photo", Hint: fmt.Sprintf("JPEG or PNG, up to %d MB. Where and when it was taken is taken out of it.", job.MostPhotoBytes>>20)},
		),
	}}
	page.Head = f.head()
	if page.Notes, err = s.truckNotes(r, facts.Job.ID); err != nil {
		return err
	}
	return r.show("truck_note", page)
}

// keepNote keeps what was typed as the truck's own page would hand it in.
func (s *site) keepNote(r *request, f *form, jobID int64) error {
	e := job.TruckEntry{Key: r.FormValue("key"), Kind: job.NoteEntry, PersonID: r.person.ID, JobID: jobID, At: r.now, Text: f.text("text")}
	if e.Key == "" {
		e.Key = secret()
	}
	_, photo, _ := f.fileUpTo(r, "photo", job.MostPhotoBytes)
	e.PhotoBytes = int64(len(photo))
	if f.ok() {
		f.heed(e.Check(r.today()))
	}
	if !f.ok() {
		return nil
	}
	act := r.act()
	act.Truck = &e
	return f.take(s.applyNote(r.Context(), act, e, photo))
}

// applyNote keeps a note once, with the photo that came with it.
func (s *site) applyNote(ctx context.Context, act job.Act, e job.TruckEntry, photo []byte) error {
	switch {
	case e.PhotoBytes != int64(len(photo)):
		return fault.Refuse("photo", "the photo did not arrive whole, try it again")
	case e.PhotoBytes > 0:
		_, err := s.Books.AddTruckNote(ctx, act, photo)
		return err
	}
	return s.Books.NoteTruckEntry(ctx, act)
}

// truckNotes is a job's notes with their moments in the business's zone.
func (s *site) truckNotes(r *request, jobID int64) ([]job.TruckNote, error) {
	notes, err := s.Books.TruckNotes(r.Context(), jobID)
	for i := range notes {
		notes[i].At = inZone(notes[i].At, r.business.Zone)
	}
	return notes, err
}

// photoShow serves a photo as the media type that its bytes told.
func (s *site) photoShow(r *request) error {
	p, err := s.photoOf(r)
	if err != nil {
		return err
	}
	r.Set(fiber.HeaderContentType, p.MediaType)
	r.Set(fiber.HeaderCacheControl, "private, max-age=86400, immutable")
	r.Set(fiber.HeaderContentDisposition, fmt.Sprintf("inline; filename=\"photo %d\"", p.ID))
	return r.Send(p.Content)
}

func (s *site) photoOf(r *request) (job.Photo, error) {
	return namedUnder(r, "photo", s.Books.Photo, func(p job.Photo) int64 { return p.JobID })
}

// photoDrop takes a photo off; the words of its note stay.
func (s *site) photoDrop(r *request) error {
	p, err := s.photoOf(r)
	if err != nil {
		return err
	}
	if err := s.Books.DropPhoto(r.Context(), r.act(), p.ID); err != nil {
		return err
	}
	return r.see(jobPath(p.JobID) + "?done=off#truck-notes")
}
