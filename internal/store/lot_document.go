package store

import (
	"context"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/seed"
)

// Documents is the documents kept with a lot, without their content.
func (s *Store) Documents(ctx context.Context, lotID int64) ([]seed.Document, error) {
	return all[seed.Document](s.reader(ctx).Where("lot_id = ?", lotID).Omit("Content").Order("id"))
}

// Document is one document with its content.
func (s *Store) Document(ctx context.Context, id int64) (seed.Document, error) {
	return one[seed.Document](s.reader(ctx), "document", id)
}

// AddDocument keeps a certificate, permit or photo with a lot, once.
func (s *Store) AddDocument(ctx context.Context, a job.Act, d seed.Document) (int64, error) {
	return s.do(ctx, a, "add a document", func(t tx) (int64, error) {
		lot, err := one[seed.Lot](t.DB, "lot", d.LotID)
		if err != nil {
			return 0, err
		}
		if d.MediaType, err = seed.DocumentTypeOf(d.Content); err != nil {
			return 0, err
		}
		d.ID, d.Bytes, d.SHA256, d.AddedAt, d.Who = 0, int64(len(d.Content)), hashOf(d.Content), t.now, t.act.Who
		if err := t.add(&d, fault.Refuse("file", "this file is kept with the lot %s already, choose another", lot.Code)); err != nil {
			return 0, err
		}
		return d.ID, t.tell("lot", lot.ID, "added the document %s to the lot %s", d.Title, lot.Code)
	})
}

// DropDocument takes a mistaken document off its lot.
func (s *Store) DropDocument(ctx context.Context, a job.Act, id int64) error {
	return s.done(ctx, a, "take off a document", func(t tx) error {
		d, err := one[seed.Document](t.Omit("Content"), "document", id)
		if err != nil {
			return err
		}
		lot, err := one[seed.Lot](t.DB, "lot", d.LotID)
		if err != nil {
			return err
		}
		if err := t.Where("id = ?", id).Delete(&seed.Document{}).Error; err != nil {
			return err
		}
		return t.tell("lot", lot.ID, "took the document %s off the lot %s", d.Title, lot.Code)
	})
}
