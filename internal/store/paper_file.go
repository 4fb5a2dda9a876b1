package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"

	"rowtally/internal/fault"
)

// KeepPDF keeps the PDF of an issued paper, once. The same bytes again change nothing;
// other bytes are a clash. sha256 is the hash of the bytes in hexadecimal.
func (s *Store) KeepPDF(ctx context.Context, paperID int64, pdf []byte, sha256 string) error {
	if hash := hashOf(pdf); hash != sha256 {
		return fmt.Errorf("keep the PDF of paper %d: its hash is %s, not %s", paperID, hash, sha256)
	}
	err := s.transact(ctx, func(db *gorm.DB) error {
		if _, err := one[paperRow](db, "paper", paperID); err != nil {
			return err
		}
		done := db.Clauses(clause.OnConflict{DoNothing: true}).Create(&paperFileRow{paperID, sha256, pdf})
		if done.Error != nil || done.RowsAffected == 1 {
			return done.Error
		}
		file, _, err := maybe[paperFileRow](db.Where("paper_id = ?", paperID))
		if err == nil && !bytes.Equal(file.PDF, pdf) {
			err = fault.Conflict("this paper's PDF is kept already, and an issued paper never changes")
		}
		return err
	})
	return outcome("keep a PDF", err)
}

// PDF is the PDF of an issued paper and its hash; missing while none is kept.
func (s *Store) PDF(ctx context.Context, paperID int64) (pdf []byte, sha256 string, err error) {
	file, ok, err := maybe[paperFileRow](s.reader(ctx).Where("paper_id = ?", paperID))
	if err == nil && !ok {
		err = fault.Miss("no PDF of this paper is kept yet")
	}
	return file.PDF, file.SHA256, err
}

func hashOf(content []byte) string {
	sum := sha256.Sum256(content)
	return hex.EncodeToString(sum[:])
}
