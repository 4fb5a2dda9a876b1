package site

import (
	"context"

	"rowtally/internal/job"
	"rowtally/internal/machine"
)

// truckDay is the day's work for a phone to take along: the jobs that may be sown, with
// all that their tubs are worked out from.
func (s *site) truckDay(r *request) error {
	facts, err := s.currentFacts(r)
	if err != nil {
		return err
	}
	machines, err := s.Books.Machines(r.Context())
	if err != nil {
		return err
	}
	day := job.TruckDay{Day: r.today(), At: r.now, Zone: r.business.Zone, Business: r.business.Name, PersonID: r.person.ID, Person: r.person.Name,
		Demo: r.business.DemoDay != "", Machines: machinesForTruck(machines), Services: job.ServicesSay(machines, r.today()), Token: r.csrf, Jobs: []job.TruckJob{}}
	for _, f := range facts {
		_, counting := f.DueCount()
		if stage := job.StageOf(f); stage != job.Agreed && stage != job.Sowing && !counting {
			continue
		}
		one, err := s.truckJobOf(r.Context(), f)
		if err != nil {
			return err
		}
		day.Jobs = append(day.Jobs, one)
	}
	return r.JSON(day)
}

func machinesForTruck(all []machine.Machine) []machine.Machine {
	for i := range all {
		all[i].Note, all[i].Owning = "", nil
	}
	return all
}

// truckJobOf adds what only the truck's own entries tell. A job whose rows cannot be laid
// goes along without a plan: its day sheets and notes can still be written.
func (s *site) truckJobOf(ctx context.Context, f job.Facts) (job.TruckJob, error) {
	entries, err := s.Books.TruckEntries(ctx, f.Job.ID)
	if err != nil {
		return job.TruckJob{}, err
	}
	kept := []job.TruckEntry{}
	for _, e := range entries {
		if e.StaysAnEntry() {
			kept = append(kept, e.AtOfficeTime())
		}
	}
	return job.ForTruck(f, f.Planned(), kept), nil
}
