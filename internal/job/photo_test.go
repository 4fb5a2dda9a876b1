package job_test

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	"rowtally/internal/job"
	"rowtally/internal/seed"
)

// picture is an invented one whose four corners differ.
func picture() image.Image {
	p := image.NewRGBA(image.Rect(0, 0, 40, 24))
	for x := range 40 {
		for y := range 24 {
			p.Set(x, y, color.RGBA{uint8(6 * x), uint8(10 * y), 90, 255})
		}
	}
	return p
}

func asJPEG(t testing.TB) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := jpeg.Encode(&out, picture(), nil); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func asPNG(t testing.TB) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := png.Encode(&out, picture()); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// segment is an application's segment of a JPEG.
func segment(marker byte, body string) string {
	return string(binary.BigEndian.AppendUint16([]byte{0xff, marker}, uint16(len(body)+2))) + body
}

// exif is an Exif segment in a byte order: how the picture is turned, the camera's name, and
// a latitude of 34° 30′ in a GPS block, laid out as TIFF 6.0 and Exif 2.32 (4.6) say.
func exif(order binary.AppendByteOrder, turned uint16) string {
	mark := "MM"
	if order == binary.AppendByteOrder(binary.LittleEndian) {
		mark = "II"
	}
	b := order.AppendUint32(order.AppendUint16([]byte(mark), 42), 8)
	entry := func(tag, kind uint16, count uint32, value []byte) {
		b = order.AppendUint32(order.AppendUint16(order.AppendUint16(b, tag), kind), count)
		b = append(b, append(value, 0, 0, 0, 0)[:4]...)
	}
	b = order.AppendUint16(b, 3)
	const afterFirst = 8 + 2 + 3*12 + 4
	entry(0x010f, 2, 4, []byte("Cam\x00"))
	entry(0x0112, 3, 1, order.AppendUint16(nil, turned))
	entry(0x8825, 4, 1, order.AppendUint32(nil, afterFirst))
	b = order.AppendUint32(b, 0)
	b = order.AppendUint16(b, 2)
	entry(1, 2, 2, []byte("S\x00"))
	entry(2, 5, 3, order.AppendUint32(nil, afterFirst+2+2*12+4))
	b = order.AppendUint32(b, 0)
	for _, v := range []uint32{34, 1, 30, 1, 0, 1} {
		b = order.AppendUint32(b, v)
	}
	return segment(0xe1, "Exif\x00\x00"+string(b))
}

// A photo loses where it was taken and keeps its picture to the last point; Go's own image
// library is the judge of the picture.
func TestAPhotoIsKeptBare(t *testing.T) {
	plain := asJPEG(t)
	told := exif(binary.BigEndian, 6) + segment(0xe1, "http://ns.adobe.com/xap/1.0/\x00<x:xmpmeta GPSLatitude='34,30S'/>") +
		segment(0xe2, "MPF\x00more pictures") + segment(0xe2, "ICC_PROFILE\x00\x01\x01colours") + segment(0xed, "Photoshop 3.0\x00") + segment(0xfe, "taken at the bore")
	loaded := string(plain[:2]) + told + string(plain[2:]) + "a film with its own position"
	p, err := job.BarePhoto([]byte(loaded))
	if err != nil || p.MediaType != seed.JPEG || p.Bytes != int64(len(p.Content)) {
		t.Fatalf("%+v, %v", p.MediaType, err)
	}
	for _, gone := range []string{"Cam\x00", "xmpmeta", "MPF", "Photoshop", "taken at", "film", "\x88\x25"} {
		if bytes.Contains(p.Content, []byte(gone)) {
			t.Errorf("%q stayed in it", gone)
		}
	}
	if !bytes.Contains(p.Content, []byte("ICC_PROFILE\x00\x01\x01colours")) {
		t.Error("the colours' profile is gone")
	}
	samePicture(t, plain, p.Content)
	again, err := job.BarePhoto(p.Content)
	if err != nil || !bytes.Equal(again.Content, p.Content) {
		t.Errorf("bare once more it differs (%v)", err)
	}
}

func samePicture(t *testing.T, before, after []byte) {
	t.Helper()
	a, _, err := image.Decode(bytes.NewReader(before))
	if err != nil {
		t.Fatal(err)
	}
	b, _, err := image.Decode(bytes.NewReader(after))
	if err != nil {
		t.Fatal(err)
	}
	if a.Bounds() != b.Bounds() {
		t.Fatalf("%v became %v", a.Bounds(), b.Bounds())
	}
	for x := range a.Bounds().Dx() {
		for y := range a.Bounds().Dy() {
			if a.At(x, y) != b.At(x, y) {
				t.Fatalf("at %d, %d: %v became %v", x, y, a.At(x, y), b.At(x, y))
			}
		}
	}
}

// The Exif that is left tells the turn and nothing else (Exif 2.32, table 4: tag 274).
func TestHowAPhotoIsTurnedStays(t *testing.T) {
	plain := asJPEG(t)
	for _, order := range []binary.AppendByteOrder{binary.BigEndian, binary.LittleEndian} {
		for turned := uint16(0); turned <= 9; turned++ {
			p, err := job.BarePhoto([]byte(string(plain[:2]) + exif(order, turned) + string(plain[2:])))
			if err != nil {
				t.Fatal(err)
			}
			want := []byte("Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00" + string(rune(turned)) + "\x00\x00\x00\x00\x00\x00")
			if has, due := bytes.Contains(p.Content, want), turned >= 2 && turned <= 8; has != due {
				t.Errorf("%v turned %d: said %v", order, turned, has)
			}
			samePicture(t, plain, p.Content)
		}
	}
}

func chunk(name, body string) string {
	whole := name + body
	return string(binary.BigEndian.AppendUint32(nil, uint32(len(body)))) + whole + string(binary.BigEndian.AppendUint32(nil, crc32.ChecksumIEEE([]byte(whole))))
}

func TestAPNGIsKeptBare(t *testing.T) {
	plain := asPNG(t)
	const head = 8 + 25 // signature and IHDR
	loaded := string(plain[:head]) + chunk("tEXt", "Comment\x00at the bore") + chunk("eXIf", "MM\x00\x2a") + chunk("gAMA", "\x00\x00\xb1\x8f") + string(plain[head:]) + "more"
	p, err := job.BarePhoto([]byte(loaded))
	if err != nil || p.MediaType != seed.PNG {
		t.Fatalf("%v, %v", p.MediaType, err)
	}
	for text, stays := range map[string]bool{"at the bore": false, "eXIf": false, "more": false, "gAMA": true} {
		if bytes.Contains(p.Content, []byte(text)) != stays {
			t.Errorf("%s stays: want %v", text, stays)
		}
	}
	samePicture(t, plain, p.Content)
}

func TestWhatIsNoPhotoIsRefused(t *testing.T) {
	whole := asJPEG(t)
	for want, content := range map[string][]byte{
		"is empty":                       nil,
		"choose one of up to 10 MB":      append([]byte("\xff\xd8\xff"), make([]byte, job.MostPhotoBytes)...),
		"choose a JPEG or a PNG":         []byte("%PDF-1.7"),
		"is cut short: take it again":    whole[:len(whole)-2],
		"cut short: take it again, or c": asPNG(t)[:60],
		"a PNG, and set the camera":      []byte("\x00\x00\x00\x18ftypheic"),
	} {
		if _, err := job.BarePhoto(content); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("told %v, want %q", err, want)
		}
	}
	for at := range len(whole) - 2 {
		if _, err := job.BarePhoto(whole[:at]); err == nil {
			t.Fatalf("the first %d of %d bytes pass as a photo", at, len(whole))
		}
	}
}

func TestANoteHasWordsOrAPhoto(t *testing.T) {
	note := job.TruckEntry{Key: "k", Kind: job.NoteEntry, JobID: 1}
	if err := note.Check("2026-07-20"); err == nil {
		t.Error("an empty note passes")
	}
	note.PhotoBytes = 5
	if err := note.Check("2026-07-20"); err != nil || note.Says() != "a photo" {
		t.Errorf("%v, %q", err, note.Says())
	}
	note.PhotoBytes = job.MostPhotoBytes + 1
	if err := note.Check("2026-07-20"); err == nil || !strings.Contains(err.Error(), "up to 10 MB") {
		t.Errorf("too large: %v", err)
	}
}

func FuzzBarePhoto(f *testing.F) {
	plain := asJPEG(f)
	f.Add(plain)
	f.Add([]byte(string(plain[:2]) + exif(binary.LittleEndian, 8) + string(plain[2:])))
	f.Add(asPNG(f))
	f.Fuzz(func(t *testing.T, content []byte) {
		p, err := job.BarePhoto(content)
		if err != nil {
			return
		}
		again, err := job.BarePhoto(p.Content)
		if err != nil || !bytes.Equal(again.Content, p.Content) {
			t.Errorf("bare once more it is %d bytes, was %d (%v)", len(again.Content), len(p.Content), err)
		}
	})
}
