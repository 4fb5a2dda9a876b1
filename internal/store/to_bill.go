package store

import (
	"context"

	"rowtally/internal/bill"
)

// ToBill is the numbers of the jobs that have an agreed quote and no invoice of the whole
// yet, in one statement. Declined jobs are left out.
func (s *Store) ToBill(ctx context.Context) (ids []int64, err error) {
	err = s.reader(ctx).Raw(`SELECT id FROM jobs WHERE declined_on = ''
		AND id IN (SELECT q.job_id FROM papers q JOIN acceptances a ON a.paper_id = q.id WHERE q.kind = ?)
		AND id NOT IN (SELECT job_id FROM papers WHERE kind = ? AND part = ?) ORDER BY id`, bill.Quote, bill.Invoice, bill.Whole).Scan(&ids).Error
	return ids, err
}
