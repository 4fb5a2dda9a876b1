package seed

import (
	"bytes"
	"time"

	"rowtally/internal/fault"
)

// Document is a certificate, permit or photo kept with a lot.
type Document struct {
	ID        int64
	LotID     int64
	Title     string // what it is: "analysis certificate"
	Name      string // of the file, as it was sent
	MediaType string // told from its bytes, never from its name
	Bytes     int64
	SHA256    string
	Content   []byte // nil in lists
	AddedAt   time.Time
	Who       string
}

// MostDocumentBytes is how large a document may be: a photo of a present-day phone.
const MostDocumentBytes = 10 << 20

// The media types that a document may have.
const (
	PDF  = "application/pdf"
	JPEG = "image/jpeg"
	PNG  = "image/png"
)

// documentStarts are the bytes that a file of each media type begins with.
var documentStarts = map[string][]byte{PDF: []byte("%PDF-"), JPEG: {0xff, 0xd8, 0xff}, PNG: []byte("\x89PNG\r\n\x1a\n")}

// DocumentTypeOf tells the media type of a document from its bytes. It refuses what is
// empty, too large, or neither a PDF nor a photo.
func DocumentTypeOf(content []byte) (string, error) {
	switch {
	case len(content) == 0:
		return "", fault.Refuse("file", "no file was chosen: choose a PDF, or a photo as JPEG or PNG")
	case len(content) > MostDocumentBytes:
		return "", fault.Refuse("file", "the file has %.1f MB: choose one of up to %d MB", float64(len(content))/(1<<20), MostDocumentBytes>>20)
	}
	for mediaType, start := range documentStarts {
		if bytes.HasPrefix(content, start) {
			return mediaType, nil
		}
	}
	return "", fault.Refuse("file", "the file is neither a PDF nor a photo: choose a PDF, or a photo as JPEG or PNG")
}
