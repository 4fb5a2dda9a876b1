package store

import (
	"cmp"
	"context"

	"gorm.io/gorm"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// testRow is a germination test without its replicates.
type testRow struct {
	ID          int64
	LotID       int64
	Kind        seed.TestKind
	Certificate seed.Certificate
	TestedOn    unit.Date
	Laboratory  string
	Reference   string
	Method      string
	Note        string
	CopiedFrom  int64 // 0 for a test of the lot's own
}

func testRowOf(t seed.Test) testRow {
	return testRow{0, t.LotID, cmp.Or(t.Kind, seed.GerminationTest), t.Certificate, t.TestedOn, t.Laboratory, t.Reference, t.Method, t.Note, t.CopiedFrom}
}

func (r testRow) test(replicates []seed.Replicate) seed.Test {
	return seed.Test{ID: r.ID, LotID: r.LotID, Kind: r.Kind, Certificate: r.Certificate, TestedOn: r.TestedOn, Laboratory: r.Laboratory,
		Reference: r.Reference, Method: r.Method, Note: r.Note, CopiedFrom: r.CopiedFrom, Replicates: replicates}
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
	return tests(s.reader(ctx), lotID)
}

func tests(db *gorm.DB, lotID int64) ([]seed.Test, error) {
	rows, err := all[testRow](of(db, "lot_id", lotID).Order("tested_on, id"))
	if err != nil {
		return nil, err
	}
	replicates, err := all[replicateRow](of(db.Joins("JOIN tests ON tests.id = replicates.test_id"), "tests.lot_id", lotID).
		Order("test_id, position"))
	byTest := map[int64][]seed.Replicate{}
	for _, r := range replicates {
		byTest[r.TestID] = append(byTest[r.TestID], r.Replicate)
	}
	tests := make([]seed.Test, 0, len(rows))
	for _, r := range rows {
		tests = append(tests, r.test(byTest[r.ID]))
	}
	return tests, err
}

// AddTest keeps a test of a lot as the laboratory reported it.
func (s *Store) AddTest(ctx context.Context, a job.Act, test seed.Test) (int64, error) {
	return s.do(ctx, a, "add a test", func(t tx) (int64, error) {
		if len(test.Replicates) == 0 {
			return 0, fault.Refuse("replicates", "a test has at least one replicate, enter its counts")
		}
		lot, err := one[seed.Lot](t.DB, "lot", test.LotID)
		if err != nil {
			return 0, err
		}
		if err := test.Check(lot, t.today()); err != nil {
			return 0, err
		}
		test.CopiedFrom = 0
		id, err := t.addTest(test)
		if err != nil {
			return 0, err
		}
		return id, t.tell("lot", lot.ID, "added the %s of %s to the lot %s", testWords[cmp.Or(test.Kind, seed.GerminationTest)], test.TestedOn, lot.Code)
	})
}

// testWords are the kinds of test as the journal says them.
var testWords = map[seed.TestKind]string{
	seed.GerminationTest: "germination test", seed.Tetrazolium: "tetrazolium test", seed.CutTest: "cut test",
}

// addTest keeps a test with its replicates and gives its number.
func (t tx) addTest(test seed.Test) (int64, error) {
	row := testRowOf(test)
	if err := t.Create(&row).Error; err != nil {
		return 0, err
	}
	for position, counts := range test.Replicates {
		if err := t.Create(&replicateRow{row.ID, position, counts}).Error; err != nil {
			return 0, err
		}
	}
	return row.ID, nil
}
