package site

import (
	"context"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// journalBooks is what the journal asks of the store.
type journalBooks interface {
	Journal(ctx context.Context, limit int) ([]job.Entry, error)
}

// journalLines is how many lines the journal shows: a busy month.
const journalLines = 400

// journalPage is who did what, newest first, day by day.
type journalPage struct {
	Frame
	Days []journalDay
	Full bool // there are older lines than those shown
	Most int
}

type journalDay struct {
	Day   unit.Date
	Lines []job.Entry
}

// toldOf is what the newest pages of the journal tell of one noun, newest first.
func (s *site) toldOf(r *request, noun string, id int64) ([]job.Entry, error) {
	const pages = 10
	lines, err := s.Books.Journal(r.Context(), pages*journalLines)
	if err != nil {
		return nil, err
	}
	var told []job.Entry
	for _, line := range lines {
		if line.Noun == noun && line.NounID == id {
			line.At = inZone(line.At, r.business.Zone)
			told = append(told, line)
		}
	}
	return told, nil
}

func (s *site) journal(r *request) error {
	lines, err := s.Books.Journal(r.Context(), journalLines+1)
	if err != nil {
		return err
	}
	page := journalPage{Frame: r.frame("business", "Journal"), Most: journalLines, Full: len(lines) > journalLines}
	for _, line := range lines[:min(len(lines), journalLines)] {
		line.At = inZone(line.At, r.business.Zone)
		day := unit.DateOf(line.At)
		if n := len(page.Days); n == 0 || page.Days[n-1].Day != day {
			page.Days = append(page.Days, journalDay{Day: day})
		}
		last := &page.Days[len(page.Days)-1]
		last.Lines = append(last.Lines, line)
	}
	return r.show("journal", page)
}
