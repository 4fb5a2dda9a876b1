package job

import (
	"time"

	"rowtally/internal/fault"
	"rowtally/internal/seed"
)

// Photo is a picture that came with a note from the truck. It is kept bare: what a camera
// writes beside the picture (where it was taken, when, by what) is taken out first.
type Photo struct {
	ID        int64
	JobID     int64
	EntryKey  string // of the note that it belongs to
	MediaType string // told from its bytes, never from its name
	Bytes     int64
	SHA256    string
	Content   []byte
	AddedAt   time.Time
	Who       string
}

// MostPhotoBytes is how large a photo may be as it comes: one of a present-day phone that
// was not scaled down.
const MostPhotoBytes = seed.MostDocumentBytes

// TruckNote is a note made at the truck, as the office shows it.
type TruckNote struct {
	Key      string
	Text     string // "" where the photo says it all
	At       time.Time
	Who      string
	PhotoID  int64 // 0 for none
	TakenOff bool  // it had a photo, which was taken off since
}

// BarePhoto takes a photo in: told by its bytes, and with everything taken out that is not
// its picture. How it is to be turned stays. What is empty, too large, cut short, or neither
// a JPEG nor a PNG is refused.
func BarePhoto(content []byte) (Photo, error) {
	switch {
	case len(content) == 0:
		return Photo{}, fault.Refuse("photo", "the photo is empty: take it again")
	case len(content) > MostPhotoBytes:
		return Photo{}, fault.Refuse("photo", "the photo has %.1f MB: choose one of up to %d MB, or let the camera take smaller ones", float64(len(content))/(1<<20), MostPhotoBytes>>20)
	}
	p := Photo{}
	whole := false
	if p.MediaType, _ = seed.DocumentTypeOf(content); p.MediaType == seed.JPEG {
		p.Content, whole = bareJPEG(content)
	} else if p.MediaType == seed.PNG {
		p.Content, whole = barePNG(content)
	} else {
		return Photo{}, fault.Refuse("photo", "this is no photo that can be kept: choose a JPEG or a PNG, and set the camera to take JPEG")
	}
	if !whole {
		return Photo{}, fault.Refuse("photo", "the photo is cut short: take it again, or choose another")
	}
	p.Bytes = int64(len(p.Content))
	return p, nil
}
