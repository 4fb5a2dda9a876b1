package site

import (
	"rowtally/internal/job"
	"rowtally/internal/machine"
)

// machinePage is everything of one machine.
type machinePage struct {
	Frame
	machineLine
	Sheets  []sheetLine // newest first
	Told    []job.Entry // what the journal tells of it, newest first
	Reading []Field
	Head    string
}

// sheetLine is one day sheet with the job it was for.
type sheetLine struct {
	machine.DaySheet
	Job job.Job
}

func (s *site) machineShow(r *request) error {
	return s.drawMachine(r, blank(map[string]string{"meter_on": string(r.today())}))
}

// drawMachine shows a machine, with the meter form as it begins or as it came back.
func (s *site) drawMachine(r *request, f *form) error {
	m, err := named(r, s.Books.Machine)
	if err != nil {
		return err
	}
	page := machinePage{Frame: r.frame("machines", m.Name), machineLine: machineLine{m, job.ServiceState(m)}}
	if page.Sheets, err = s.sheetLines(r, m.ID); err != nil {
		return err
	}
	if page.Told, err = s.toldOf(r, "machine", m.ID); err != nil {
		return err
	}
	page.Reading = f.fields(meterFields()...)
	page.Head = f.head()
	if !f.ok() {
		r.Status(422)
	}
	return r.show("machine", page)
}

func (s *site) sheetLines(r *request, machineID int64) ([]sheetLine, error) {
	sheets, err := s.Books.DaySheets(r.Context(), 0)
	if err != nil {
		return nil, err
	}
	jobs, err := s.Books.Jobs(r.Context(), 0)
	if err != nil {
		return nil, err
	}
	byID := map[int64]job.Job{}
	for _, j := range jobs {
		byID[j.ID] = j
	}
	var lines []sheetLine
	for i := len(sheets) - 1; i >= 0; i-- {
		if sheets[i].MachineID == machineID {
			lines = append(lines, sheetLine{sheets[i], byID[sheets[i].JobID]})
		}
	}
	return lines, nil
}
