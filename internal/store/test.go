package store

import (
	"context"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// testRow is a germination test without its replicates.
type testRow struct {
	ID         int64
	LotID      int64
	TestedOn   unit.Date
	Laboratory string
	Reference  string
	Method     string
	Note       string
}

// replicateRow is the counts of one replicate of a test.
type replicateRow struct {
	TestID   int64
	Position int
	seed.Replicate
}

// Tests is the germination tests of a lot with their replicates, oldest first; lotID 0
// gives those of every lot.
func (s *Store) Tests(ctx context.Context, lotID int64) ([]seed.Test, error) {
	rows, err := all[testRow](of(s.reader(ctx), "lot_id", lotID).Order("tested_on, id"))
	if err != nil {
		return nil, err
	}
	replicates, err := all[replicateRow](of(s.reader(ctx).Joins("JOIN tests ON tests.id = replicates.test_id"), "tests.lot_id", lotID).
		Order("test_id, position"))
	byTest := map[int64][]seed.Replicate{}
	for _, r := range replicates {
		byTest[r.TestID] = append(byTest[r.TestID], r.Replicate)
	}
	tests := make([]seed.Test, 0, len(rows))
	for _, r := range rows {
		tests = append(tests, seed.Test{ID: r.ID, LotID: r.LotID, TestedOn: r.TestedOn, Laboratory: r.Laboratory,
			Reference: r.Reference, Method: r.Method, Note: r.Note, Replicates: byTest[r.ID]})
	}
	return tests, err
}

// AddTest keeps a germination test of a lot as the laboratory reported it.
func (s *Store) AddTest(ctx context.Context, a job.Act, test seed.Test) (int64, error) {
	return s.do(ctx, a, "add a germination test", func(t tx) (int64, error) {
		if len(test.Replicates) == 0 {
			return 0, fault.Refuse("replicates", "a germination test has at least one replicate, enter its counts")
		}
		lot, err := one[seed.Lot](t.DB, "lot", test.LotID)
		if err != nil {
			return 0, err
		}
		row := testRow{0, test.LotID, test.TestedOn, test.Laboratory, test.Reference, test.Method, test.Note}
		if err := t.Create(&row).Error; err != nil {
			return 0, err
		}
		for position, counts := range test.Replicates {
			if err := t.Create(&replicateRow{row.ID, position, counts}).Error; err != nil {
				return 0, err
			}
		}
		return row.ID, t.tell("lot", lot.ID, "added the germination test of %s to the lot %s", test.TestedOn, lot.Code)
	})
}
