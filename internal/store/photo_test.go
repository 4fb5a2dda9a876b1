package store

import (
	"bytes"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// smallPhoto is a JPEG as far as its segments go: a comment, and no picture.
var smallPhoto = []byte("\xff\xd8\xff\xfe\x00\x09bore 34\xff\xd9")

func TestAPhotoIsKeptOnceAndBareWithItsNote(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		note := func(key, text string, photo []byte) (int64, error) {
			a := y.act()
			a.Key = "/truck " + key
			a.Truck = &job.TruckEntry{Key: key, Kind: job.NoteEntry, JobID: y.job, Text: text, PhotoBytes: int64(len(photo)), At: a.Now}
			if photo == nil {
				return 0, s.NoteTruckEntry(y.ctx, a)
			}
			return s.AddTruckNote(y.ctx, a, photo)
		}
		_, err := note("bad", "x", []byte("<html>"))
		refused(t, err, fault.Refused, "photo", "choose a JPEG or a PNG")
		id := y.id(note("one", "washed out", smallPhoto))
		if again := y.id(note("one", "washed out", smallPhoto)); again != id {
			t.Errorf("the same note again is photo %d, was %d", again, id)
		}
		_, err = note("two", "gate left open", nil)
		y.must(err)
		p, err := s.Photo(y.ctx, id)
		if y.must(err); !bytes.Equal(p.Content, []byte("\xff\xd8\xff\xd9")) || p.JobID != y.job || p.EntryKey != "one" || p.MediaType != "image/jpeg" || p.Bytes != 4 {
			t.Errorf("kept %+v", p)
		}
		y.sound()
		notes := func() map[string]job.TruckNote {
			all, err := s.TruckNotes(y.ctx, y.job)
			y.must(err)
			byText := map[string]job.TruckNote{}
			for _, n := range all {
				byText[n.Text] = n
			}
			return byText
		}
		if all := notes(); len(all) != 2 || all["washed out"].PhotoID != id || all["gate left open"].PhotoID != 0 || all["washed out"].Who == "" {
			t.Errorf("the job has the notes %+v", all)
		}
		y.must(s.DropPhoto(y.ctx, y.act(), id))
		refused(t, s.DropPhoto(y.ctx, y.act(), id), fault.Missing, "", "no photo")
		if n := notes()["washed out"]; n.PhotoID != 0 || !n.TakenOff {
			t.Errorf("without its photo the note is %+v", n)
		}
		undo := y.act()
		undo.Truck = &job.TruckEntry{Key: "undo", Kind: job.UndoEntry, JobID: y.job, Undoes: &job.Undone{Key: "one"}}
		y.must(s.NoteTruckEntry(y.ctx, undo))
		if all := notes(); len(all) != 1 {
			t.Errorf("an undone note stands: %+v", all)
		}
	})
}
