package site

import (
	"fmt"
	"path"
	"strings"

	"github.com/gofiber/fiber/v2"

	"rowtally/internal/seed"
)

// documentNew keeps a certificate, permit or photo with a lot.
func (s *site) documentNew(r *request) error {
	lot, err := named(r, s.Books.Lot)
	if err != nil {
		return err
	}
	f := blank(nil)
	if r.isPost() {
		f = readForm(r)
		name, content, given := f.file(r, "file")
		d := seed.Document{LotID: lot.ID, Title: f.must("title", "Say what it is: analysis certificate, permit, photo …"), Name: name, Content: content}
		if !given || len(content) == 0 {
			f.refuse("file", "Choose a PDF, or a photo as JPEG or PNG.")
		} else if _, err := seed.DocumentTypeOf(content); err != nil {
			f.heed(err)
		}
		if f.ok() {
			if _, err := s.Books.AddDocument(r.Context(), r.act(), d); err == nil {
				return r.see(lotPath(lot.ID) + "?done=kept#documents")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("shed", "A document of "+lot.Code), Button: "Keep it", Back: lotPath(lot.ID), Files: true,
		Groups: []group{{Fields: []Field{
			{Name: "title", Label: "What it is", Required: true, Hint: "Analysis certificate, permit to collect, photo of the bags …"},
			{Name: "file", Label: "File", Kind: "file", Required: true, Hint: fmt.Sprintf("A PDF, or a photo as JPEG or PNG, of up to %d MB.", seed.MostDocumentBytes>>20)},
		}}},
	})
}

// documentShow serves a document back as the media type that its bytes told; the guard's
// nosniff and policy keep the browser from making anything else of it.
func (s *site) documentShow(r *request) error {
	d, err := s.documentOf(r)
	if err != nil {
		return err
	}
	r.Set(fiber.HeaderContentType, d.MediaType)
	r.Set(fiber.HeaderContentDisposition, fmt.Sprintf("inline; filename=%q", documentName(d)))
	return r.Send(d.Content)
}

func (s *site) documentOf(r *request) (seed.Document, error) {
	return namedUnder(r, "document", s.Books.Document, func(d seed.Document) int64 { return d.LotID })
}

// documentName is the name under which a document is saved: plain letters of the name it
// was sent with, and the ending of what it is.
func documentName(d seed.Document) string {
	endings := map[string]string{seed.PDF: ".pdf", seed.JPEG: ".jpg", seed.PNG: ".png"}
	stem := strings.TrimSuffix(path.Base(d.Name), path.Ext(d.Name))
	plain := strings.Map(func(c rune) rune {
		if c == '-' || c == '_' || c == ' ' || c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' {
			return c
		}
		return -1
	}, stem)
	if plain == "" {
		plain = fmt.Sprintf("document %d", d.ID)
	}
	return plain + endings[d.MediaType]
}

// documentDrop takes a mistaken document off its lot.
func (s *site) documentDrop(r *request) error {
	d, err := s.documentOf(r)
	if err != nil {
		return err
	}
	if err := s.Books.DropDocument(r.Context(), r.act(), d.ID); err != nil {
		return err
	}
	return r.see(lotPath(d.LotID) + "?done=off#documents")
}
