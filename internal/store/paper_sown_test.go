package store

import (
	"testing"

	"rowtally/internal/fault"
)

func TestAPaperKeepsTheSownRecordItRestsOn(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		measured := invoice(y.job)
		measured.SownSheet = `{"rows":"as sown"}`
		with, without := y.issue(measured), y.quote(y.newJob())
		sheet, err := s.PaperSown(y.ctx, with.ID)
		y.must(err)
		if sheet != measured.SownSheet || with.SownSheet != "" {
			t.Errorf("the sheet came back as %q, and %q with its paper", sheet, with.SownSheet)
		}
		_, err = s.PaperSown(y.ctx, without.ID)
		refused(t, err, fault.Missing, "", "without a sown record")
	})
}
