package site

import (
	"rowtally/internal/job"
	"rowtally/internal/machine"
)

// machinePage is everything of one machine.
type machinePage struct {
	Frame
	machineLine
	Sheets   []sheetLine // newest first
	Told     []job.Entry // what the journal tells of it, newest first
	Reading  []Field
	Serviced []Field
	Head     string

	PulledBy *machine.Machine // nil when it goes by itself
	Cost     *machineHour     // nil for whoever does not see money
	Rate     *sowingRate      // nil for a machine that sows none
}

// sowingRate is how fast a machine sows, and what that means for the jobs that name it.
type sowingRate struct {
	Learned job.LearnedRate
	Says    string
	Jobs    []job.MachineTime
}

// sheetLine is one day sheet with the job it was for.
type sheetLine struct {
	machine.DaySheet
	Job job.Job
}

func (s *site) machineShow(r *request) error {
	return s.drawMachine(r, blank(map[string]string{"meter_on": string(r.today()), "serviced_on": string(r.today())}))
}

// drawMachine shows a machine, with the meter form as it begins or as it came back.
func (s *site) drawMachine(r *request, f *form) error {
	m, err := named(r, s.Books.Machine)
	if err != nil {
		return err
	}
	page := machinePage{Frame: r.frame("machines", m.Name), machineLine: machineLine{m, job.ServiceState(m, r.today())}}
	if err := s.fillMachine(r, &page); err != nil {
		return err
	}
	if page.Sheets, err = s.sheetLines(r, m.ID); err != nil {
		return err
	}
	if page.Told, err = s.toldOf(r, "machine", m.ID); err != nil {
		return err
	}
	page.Reading = f.fields(meterFields()...)
	page.Serviced = f.fields(serviceFields()...)
	page.Head = f.head()
	if !f.ok() {
		r.Status(422)
	}
	return r.show("machine", page)
}

// fillMachine works out what stands beside the machine itself: what pulls it, and for the
// office what an hour costs.
func (s *site) fillMachine(r *request, page *machinePage) error {
	yard, err := s.Books.Yard(r.Context(), r.today())
	if err != nil {
		return err
	}
	if by, pulled := yard.Machine(page.PulledByID); pulled {
		page.PulledBy = &by
	}
	if r.person.Role == job.Contractor {
		cost := hourOf(r, yard, page.Machine)
		page.Cost = &cost
	}
	if page.Kind != "drill" && (page.Rows > 0 || page.SpeedKmh > 0) {
		page.Rate, err = s.rateOf(r, yard, page.Machine)
	}
	return err
}

// rateOf reads the rate off the day sheets, and works out the jobs to come by it.
func (s *site) rateOf(r *request, y job.Yard, m machine.Machine) (*sowingRate, error) {
	learned := job.LearnRate(m, y.Worked(m))
	rate := sowingRate{Learned: learned, Says: learned.Says()}
	all, err := s.factsWhere(r, func(j job.Job) bool { return j.DeclinedOn == "" && j.Season == r.today().Time().Year() })
	for _, f := range all {
		if f.Sower == nil || f.Sower.ID != m.ID {
			continue
		}
		if time := f.MachineTime(); time.ToSowM > 0 {
			rate.Jobs = append(rate.Jobs, time)
		}
	}
	return &rate, err
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
