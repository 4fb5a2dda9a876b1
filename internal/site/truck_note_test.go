package site

import (
	"bytes"
	"encoding/json"
	"image"
	"image/jpeg"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"rowtally/internal/job"
)

// photo is an invented JPEG, with a comment that must not stay.
func photo(t *testing.T) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := jpeg.Encode(&out, image.NewGray(image.Rect(0, 0, 16, 12)), nil); err != nil {
		t.Fatal(err)
	}
	return append([]byte("\xff\xd8\xff\xfe\x00\x0e34.5 S 138 E"), out.Bytes()[2:]...)
}

// multi is a post of a form with a file.
func multi(t *testing.T, path string, fields map[string]string, name string, content []byte) *http.Request {
	t.Helper()
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	for field, value := range fields {
		w.WriteField(field, value)
	}
	if content != nil {
		part, err := w.CreateFormFile("photo", name)
		if err != nil {
			t.Fatal(err)
		}
		part.Write(content)
	}
	w.Close()
	r := httptest.NewRequest(http.MethodPost, path, &body)
	r.Header.Set("Content-Type", w.FormDataContentType())
	r.Header.Set("Origin", "http://"+host)
	return r
}

func TestANoteWithItsPhotoIsKeptByTheForm(t *testing.T) {
	w := agreed(t)
	w.operator.get("/truck/1").mustShow(t, 200, `href="/truck/1/note"`)
	form := w.operator.get("/truck/1/note")
	form.mustShow(t, 200, `type="file" accept="image/*"`, "Where and when it was taken is taken out of it.")
	send := func(key, text, name string, content []byte) page {
		return w.operator.send(multi(t, "/truck/1/note", map[string]string{"csrf": tokenIn(form.text), "key": key, "text": text}, name, content))
	}
	for says, content := range map[string][]byte{"choose a JPEG or a PNG": []byte("GIF89a"), "cut short": photo(t)[:40], "a file of up to 10 MB is read": append(photo(t), make([]byte, job.MostPhotoBytes)...)} {
		send("bad", "washed out", "IMG 1.jpg", content).mustShow(t, 422, says, "washed out</textarea>")
	}
	send("none", "", "", nil).mustShow(t, 422, "or a photo: enter what is to be remembered")
	send("k1", "washed out", "IMG 1.jpg", photo(t)).mustLead(t, "/truck/1/note?done=kept")
	send("k1", "washed out", "IMG 1.jpg", photo(t)).mustLead(t, "/truck/1/note?done=kept")
	send("k2", "gate left open", "", nil).mustLead(t, "/truck/1/note?done=kept")
	for _, p := range []page{w.operator.get("/truck/1/note"), w.contractor.get("/jobs/1")} {
		p.mustShow(t, 200, "washed out", "gate left open", `<img src="/jobs/1/photos/1" alt="Photo: washed out"`)
		if n := strings.Count(p.text, "<img"); n != 1 {
			t.Errorf("the page shows %d photos", n)
		}
	}
	got := w.operator.get("/jobs/1/photos/1")
	if got.header.Get("Content-Type") != "image/jpeg" || strings.Contains(got.text, "34.5 S") {
		t.Errorf("the photo comes as %s, %q", got.header.Get("Content-Type"), got.text[:20])
	}
	if _, err := jpeg.Decode(strings.NewReader(got.text)); err != nil {
		t.Error(err)
	}
	w.operator.get("/jobs/2/photos/1").mustShow(t, 404)
	w.contractor.post("/jobs/1/photos/1/drop").mustLead(t, "/jobs/1?done=off#truck-notes")
	w.contractor.get("/jobs/1").mustShow(t, 200, "washed out", "Its photo was taken off.")
	w.sound(t)
}

func TestAPhotoOfThePhoneIsKeptOnce(t *testing.T) {
	y := newTruckYard(t)
	e := y.first.entry(job.NoteEntry)
	e.Text, e.PhotoBytes = "washed out", int64(len(photo(t)))
	told, _ := json.Marshal(e)
	send := func(content []byte) entryAnswer {
		r := multi(t, "/truck/entries", map[string]string{"entry": string(told)}, "photo.jpg", content)
		r.Header.Set("X-Form-Token", y.first.day.Token)
		p := y.first.send(r)
		var out entryAnswer
		if err := json.Unmarshal([]byte(p.text), &out); err != nil {
			t.Fatalf("%d %s", p.status, p.text)
		}
		return out
	}
	if once, again := send(photo(t)), send(photo(t)); once.Outcome != entryKept || again != once {
		t.Errorf("answered %+v, then %+v", once, again)
	}
	notes, err := y.store.TruckNotes(t.Context(), e.JobID)
	if err != nil || len(notes) != 1 || notes[0].PhotoID == 0 || notes[0].Text != "washed out" {
		t.Errorf("kept %+v (%v)", notes, err)
	}
	e.Key, told = "lost", nil
	told, _ = json.Marshal(e)
	if lost := send(nil); lost.Outcome != entryRefused || lost.Told != "The photo did not arrive whole, try it again." {
		t.Errorf("without its photo: %+v", lost)
	}
	y.first.load()
	kept := y.first.bore().Kept
	if n := len(kept); n == 0 || kept[n-1].PhotoBytes == 0 {
		t.Errorf("the phone has %+v of it", kept)
	}
	undo := y.first.entry(job.UndoEntry)
	undo.Undoes = &job.Undone{Key: notes[0].Key}
	y.first.handIn(undo)
	if notes, _ := y.store.TruckNotes(t.Context(), e.JobID); len(notes) != 0 {
		t.Errorf("undone it stands: %+v", notes)
	}
}
