package site

import (
	"context"
	"fmt"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// recordBooks is what the sown record as a paper asks of the store.
type recordBooks interface {
	PaperSown(ctx context.Context, paperID int64) (sheet string, err error)
}

// recordRoutes shows the sown record as page and paper: of a job today, and as it stood when
// a paper was issued; to the contractor, and to the farmer by link.
func (s *site) recordRoutes() []route {
	open := func(path string, answer handler) route {
		return route{method: get, path: "/farm/:token" + path, open: anyone, answer: answer}
	}
	const ofJob, ofPaper = "/jobs/:id/sown-record", "/papers/:id/sown-record"
	return []route{
		office(get, ofJob, s.recordPage(s.recordOf(s.jobFacts))), office(get, ofJob+".pdf", s.recordPDF(s.recordOf(s.jobFacts))),
		office(get, ofPaper, s.recordPage(s.recordKept)), office(get, ofPaper+".pdf", s.recordPDF(s.recordKept)),
		open(ofJob, s.recordPage(s.recordOf(s.farmersFacts))), open(ofJob+".pdf", s.recordPDF(s.recordOf(s.farmersFacts))),
		open(ofPaper, s.recordPage(s.recordOfFarmer)), open(ofPaper+".pdf", s.recordPDF(s.recordOfFarmer)),
	}
}

type recordReader func(*request) (job.SownSheet, error)

// recordOf reads the record as it is matched today.
func (s *site) recordOf(factsOf func(*request) (job.Facts, error)) recordReader {
	return func(r *request) (job.SownSheet, error) {
		facts, err := factsOf(r)
		if err != nil {
			return job.SownSheet{}, err
		}
		return job.SownSheetOf(facts)
	}
}

// recordKept reads the record as it stood when the paper of the path was issued.
func (s *site) recordKept(r *request) (job.SownSheet, error) {
	paper, err := s.paperOf(r)
	if err != nil {
		return job.SownSheet{}, err
	}
	text, err := s.Books.PaperSown(r.Context(), paper.ID)
	if err != nil {
		return job.SownSheet{}, err
	}
	sheet, err := job.ReadSownSheet(text)
	sheet.For = string(paper.Kind) + " " + paper.Number
	return sheet, err
}

// restsOnRecord tells whether a paper was issued with a sown record.
func (s *site) restsOnRecord(r *request, paperID int64) (bool, error) {
	_, err := s.Books.PaperSown(r.Context(), paperID)
	if fault.KindOf(err) == fault.Missing && err != nil {
		return false, nil
	}
	return err == nil, err
}

// recordOfFarmer is recordKept for a paper of the link's own farm.
func (s *site) recordOfFarmer(r *request) (job.SownSheet, error) {
	farm, err := s.Books.FarmByToken(r.Context(), r.Params("token"))
	if err != nil {
		return job.SownSheet{}, err
	}
	paper, err := s.paperOf(r)
	if err != nil {
		return job.SownSheet{}, err
	}
	owner, err := s.Books.Job(r.Context(), paper.JobID)
	if err != nil {
		return job.SownSheet{}, err
	}
	if owner.FarmID != farm.ID {
		return job.SownSheet{}, noPage()
	}
	return s.recordKept(r)
}

type recordPage struct {
	Frame
	job.SownSheet
	Sketch *sketch
	PDF    string
	Back   string
}

// aboveRecord is the page that a sown record stands under. A paper has none of its own for
// the farmer, whom the link's first page serves.
func (r *request) aboveRecord() string {
	if token := r.Params("token"); token != "" && strings.Contains(r.Path(), "/papers/") {
		return "/farm/" + token
	}
	return strings.TrimSuffix(r.Path(), "/sown-record")
}

func (s *site) recordPage(read recordReader) handler {
	return func(r *request) error {
		sheet, err := read(r)
		if err != nil {
			return err
		}
		frame := r.frame("jobs", "Sown record, "+sheet.Name)
		if r.Params("token") != "" {
			frame = r.farmerFrame(frame.Title)
		}
		return r.show("sown_record", recordPage{Frame: frame, SownSheet: sheet, Sketch: sketchOf(sheet.Map, acrossPage), PDF: r.Path() + ".pdf", Back: r.aboveRecord()})
	}
}

func (s *site) recordPDF(read recordReader) handler {
	return func(r *request) error {
		sheet, err := read(r)
		if err != nil {
			return err
		}
		pdf, err := s.Press.Sown(sheet)
		if err != nil {
			return fmt.Errorf("print the sown record of %s: %w", sheet.Code, err)
		}
		return r.sendPDF(sheet.Code+" sown record.pdf", pdf)
	}
}
