package walk

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"
)

// turned is a photo of 2000 by 1000 points whose Exif says that its right side is up, as a
// phone held upright writes it, and carries a name.
func turned(t *testing.T) string {
	t.Helper()
	picture := image.NewGray(image.Rect(0, 0, 2000, 1000))
	for x := range 1000 {
		for y := range 1000 {
			picture.SetGray(x, y, color.Gray{Y: 220})
		}
	}
	var plain bytes.Buffer
	if err := jpeg.Encode(&plain, picture, nil); err != nil {
		t.Fatal(err)
	}
	exif := "Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x02\x01\x0f\x00\x02\x00\x00\x00\x04Cam\x00\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00\x00\x00\x00\x00"
	whole := append([]byte("\xff\xd8\xff\xe1\x00"+string(rune(len(exif)+2))+exif), plain.Bytes()[2:]...)
	path := filepath.Join(t.TempDir(), "photo.jpg")
	if err := os.WriteFile(path, whole, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestANoteWithAPhotoIsMadeWithoutSignalAndArrivesOnce(t *testing.T) {
	t.Parallel()
	d := newDepot(t)
	b := d.phone()
	d.stop()
	b.touch("Bore")
	b.waitSays("to the line")
	b.touch("Note")
	b.waitSays("What is to be remembered")
	b.touch("Keep the note")
	b.waitSays("or a photo: enter what is to be remembered")
	noPhoto := filepath.Join(t.TempDir(), "photo.txt")
	if err := os.WriteFile(noPhoto, []byte("no photo"), 0o600); err != nil {
		t.Fatal(err)
	}
	b.attach("Choose a photo", noPhoto)
	b.waitSays("This phone cannot read that file as a photo")
	b.attach("Choose a photo", turned(t))
	b.waitSays("Leave the photo out")
	if size := look[string](b, `(c => c.width + " x " + c.height)(document.querySelector("canvas"))`); size != "800 x 1600" {
		t.Errorf("the photo is shown at %s, want it upright at 800 x 1600", size)
	}
	b.fill("What is to be remembered", "track washed out")
	b.touch("Keep the note")
	b.waitSays("1 entry waits here")
	b.reload()
	b.waitSays("Undo note with a photo: track washed out")
	d.start()
	b.signalComes()
	b.waitSays("Nothing waits here; 1 has reached the office.")
	if got := d.rows("SELECT count(*) || ' ' || count(DISTINCT entry_key) FROM photos WHERE job_id = 3"); got != "1 1" {
		t.Fatalf("the office has %s photos, want 1", got)
	}
	content, err := hex.DecodeString(d.rows("SELECT hex(content) FROM photos WHERE job_id = 3"))
	if err != nil {
		t.Fatal(err)
	}
	kept, err := jpeg.DecodeConfig(bytes.NewReader(content))
	if err != nil || kept.Width != 800 || kept.Height != 1600 {
		t.Errorf("kept at %d x %d (%v)", kept.Width, kept.Height, err)
	}
	if bytes.Contains(content, []byte("Exif")) || bytes.Contains(content, []byte("Cam\x00")) {
		t.Error("the photo still tells of its camera")
	}
	b.waitFor(`(await_ => (globalThis.left ?? indexedDB.open("rowtally-truck-photos").addEventListener("success", e => {
		e.target.result.transaction("photos").objectStore("photos").count().onsuccess = n => { globalThis.left = "left: " + n.target.result; e.target.result.close(); };
	}), globalThis.left === "left: 0"))()`)
	office := newBrowser(t, "http://"+d.address, phone, true)
	office.open("/")
	office.fill("Name", d.people["contractor"][0], "Password", d.people["contractor"][1])
	office.press("Sign in")
	office.open("/jobs/3")
	office.says("Notes from the truck", "track washed out")
	look[bool](office, `(document.images[0].scrollIntoView(), true)`)
	office.waitFor(`document.images[0].naturalWidth === 800 && document.images[0].naturalHeight === 1600`)
}

func TestACountIsWalkedWithoutSignalAndArrivesOnce(t *testing.T) {
	t.Parallel()
	d := newDepot(t)
	b := d.phone()
	b.touch("Lagoon")
	b.waitSays("First count")
	d.stop()
	b.touch("First count")
	b.waitSays("0 of ")
	places := look[int](b, `document.querySelectorAll(".entries li").length`)
	b.touch("To place 1")
	for place := 1; place <= places; place++ {
		b.waitSays(fmt.Sprintf("Place %d of %d", place, places))
		b.waitFor(`document.getElementById("occupied")`)
		b.fill("Occupied", "11")
		if place == 1 {
			b.touch("Keep, and to the next")
			b.waitSays("11 of 10 placements are occupied: enter no more than were looked at.")
			b.reload()
			b.waitSays("Place 1 of")
			b.waitFor(`document.getElementById("occupied")`)
		}
		b.fill("Occupied", fmt.Sprint(4+place%3))
		if place < places {
			b.touch("Keep, and to the next")
		} else {
			b.touch("Keep, and to the end")
		}
	}
	b.waitSays(fmt.Sprintf("%d of %d places are counted.", places, places))
	b.touch("Keep the count")
	b.waitSays("1 entry waits here")
	d.start()
	b.signalComes()
	b.waitSays("Nothing waits here; 1 has reached the office.")
	b.signalComes()
	if got := d.rows("SELECT count(*) FROM counts WHERE job_id = 2"); got != "1" {
		t.Errorf("the office has %s counts, want 1", got)
	}
}
