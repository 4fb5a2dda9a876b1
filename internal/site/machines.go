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
	KeepService(ctx context.Context, act job.Act, id int64, on unit.Date, note string) error
	DaySheets(ctx context.Context, jobID int64) ([]machine.DaySheet, error)
	machineCostBooks
}

// machineCostBooks is what the pages of what machines cost ask of the store.
type machineCostBooks interface {
	Yard(ctx context.Context, on unit.Date) (job.Yard, error)
	KeepOwning(ctx context.Context, act job.Act, o machine.Owning) error
	FuelRates(ctx context.Context) (machine.FuelRates, error)
	AddFuelRate(ctx context.Context, act job.Act, rate machine.FuelRate) (int64, error)
	RemoveFuelRate(ctx context.Context, act job.Act, id int64) error
}

func (s *site) machineRoutes() []route {
	return []route{
		field(get, "/machines", s.machines),
		office(get, "/machines/new", s.machineNew),
		office(post, "/machines/new", s.machineNew),
		office(get, "/machines/fuel", s.fuel),
		office(post, "/machines/fuel", s.fuel),
		office(post, "/machines/fuel/:id/remove", s.fuelRemove),
		office(get, "/machines/:id/owning", s.machineOwning),
		office(post, "/machines/:id/owning", s.machineOwning),
		field(get, "/machines/:id", s.machineShow),
		office(get, "/machines/:id/edit", s.machineEdit),
		office(post, "/machines/:id/edit", s.machineEdit),
		office(post, "/machines/:id/reading", s.machineReading),
		office(post, "/machines/:id/serviced", s.machineServiced),
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
	page := machinesPage{Frame: r.frame("machines", "Machines"), Says: job.YardSays(machines, r.today())}
	for _, m := range machines {
		page.Trouble = page.Trouble || job.ServiceSoon(m, r.today())
		page.Machines = append(page.Machines, machineLine{m, job.ServiceState(m, r.today())})
	}
	return r.show("machines", page)
}
