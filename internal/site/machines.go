package site

import (
	"context"

	"rowtally/internal/job"
	"rowtally/internal/machine"
	"rowtally/internal/unit"
)

// machineBooks is what the machine pages ask of the store.
type machineBooks interface {
	Machines(ctx context.Context) ([]machine.Machine, error)
	Machine(ctx context.Context, id int64) (machine.Machine, error)
	AddMachine(ctx context.Context, act job.Act, m machine.Machine) (int64, error)
	ChangeMachine(ctx context.Context, act job.Act, m machine.Machine) error
	ReadMeter(ctx context.Context, act job.Act, id, minutes int64, on unit.Date) error
	CorrectMeter(ctx context.Context, act job.Act, id, minutes int64, on unit.Date, why string) error
	DaySheets(ctx context.Context, jobID int64) ([]machine.DaySheet, error)
}

func (s *site) machineRoutes() []route {
	return []route{
		field(get, "/machines", s.machines),
		office(get, "/machines/new", s.machineNew),
		office(post, "/machines/new", s.machineNew),
		field(get, "/machines/:id", s.machineShow),
		office(get, "/machines/:id/edit", s.machineEdit),
		office(post, "/machines/:id/edit", s.machineEdit),
		office(post, "/machines/:id/reading", s.machineReading),
		office(get, "/machines/:id/correct", s.machineCorrect),
		office(post, "/machines/:id/correct", s.machineCorrect),
	}
}

// machinesPage is every machine and what is due.
type machinesPage struct {
	Frame
	Says     string
	Trouble  bool // a service is due
	Machines []machineLine
}

// machineLine is one machine and how it stands to its service.
type machineLine struct {
	machine.Machine
	Service string
}

func (s *site) machines(r *request) error {
	machines, err := s.Books.Machines(r.Context())
	if err != nil {
		return err
	}
	page := machinesPage{Frame: r.frame("machines", "Machines"), Says: job.YardSays(machines)}
	for _, m := range machines {
		page.Trouble = page.Trouble || job.ServiceSoon(m)
		page.Machines = append(page.Machines, machineLine{m, job.ServiceState(m)})
	}
	return r.show("machines", page)
}
