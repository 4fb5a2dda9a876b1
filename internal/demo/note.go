package demo

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// noted keeps a note of the operator's with its photo.
func (b *builder) noted(jobID int64, on unit.Date, key, text string, photo []byte) {
	act := b.actOf(b.operator, operatorName, on)
	act.Key = "demo note " + key
	act.Truck = &job.TruckEntry{Key: key, Kind: job.NoteEntry, PersonID: b.operator, JobID: jobID, At: act.Now, Text: text, PhotoBytes: int64(len(photo))}
	_, err := b.books.AddTruckNote(b.ctx, act, photo)
	b.keep("note", err)
}

// bar is a straight piece of a drawing: from one corner to the other, in a colour.
type bar struct {
	x0, y0, x1, y1 int
	ink            color.RGBA
}

// lockedGate is a drawing of a gate with a chain, in the place of a photo.
func lockedGate() []byte {
	sky, ground, track := color.RGBA{205, 216, 220, 255}, color.RGBA{170, 158, 128, 255}, color.RGBA{192, 178, 148, 255}
	steel, wood, chain := color.RGBA{96, 102, 104, 255}, color.RGBA{112, 90, 66, 255}, color.RGBA{40, 40, 42, 255}
	bars := []bar{{0, 0, 800, 290, sky}, {0, 290, 800, 600, ground}, {180, 400, 620, 600, track}, {260, 290, 540, 400, track}}
	for y := 250; y <= 450; y += 50 {
		bars = append(bars, bar{150, y, 650, y + 12, steel})
	}
	for _, x := range []int{150, 396, 638} {
		bars = append(bars, bar{x, 250, x + 12, 462, steel})
	}
	bars = append(bars, bar{104, 200, 144, 520, wood}, bar{656, 200, 696, 520, wood}, bar{620, 338, 704, 348, chain}, bar{646, 344, 668, 376, chain})
	picture := image.NewRGBA(image.Rect(0, 0, 800, 600))
	for _, one := range bars {
		for x := one.x0; x < one.x1; x++ {
			for y := one.y0; y < one.y1; y++ {
				picture.SetRGBA(x, y, one.ink)
			}
		}
	}
	var out bytes.Buffer
	jpeg.Encode(&out, picture, &jpeg.Options{Quality: 80}) // a buffer takes all
	return out.Bytes()
}
