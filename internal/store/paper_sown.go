package store

import (
	"context"

	"rowtally/internal/fault"
)

// paperSownRow is the sown record that an issued paper rests on, as it stood at its issue.
type paperSownRow struct {
	PaperID int64
	Sheet   string
}

// PaperSown is the sown record that an issued paper rests on, as text; missing where the
// paper rests on no log.
func (s *Store) PaperSown(ctx context.Context, paperID int64) (sheet string, err error) {
	row, ok, err := maybe[paperSownRow](s.reader(ctx).Where("paper_id = ?", paperID))
	if err == nil && !ok {
		err = fault.Miss("this paper was issued without a sown record")
	}
	return row.Sheet, err
}
