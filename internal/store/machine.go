package store

import (
	"context"
	"fmt"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/machine"
	"rowtally/internal/unit"
)

// Machines is every machine with what it costs to own, by name.
func (s *Store) Machines(ctx context.Context) ([]machine.Machine, error) {
	return all[machine.Machine](s.reader(ctx).Preload("Owning").Order("lower(name)"))
}

// Machine is one machine with what it costs to own.
func (s *Store) Machine(ctx context.Context, id int64) (machine.Machine, error) {
	return one[machine.Machine](s.reader(ctx).Preload("Owning"), "machine", id)
}

// AddMachine keeps a new machine with its meter as it stands; what it costs is kept by
// KeepOwning.
func (s *Store) AddMachine(ctx context.Context, a job.Act, m machine.Machine) (int64, error) {
	return s.do(ctx, a, "add a machine", func(t tx) (int64, error) {
		m.ID, m.Owning = 0, nil
		if m.MeterMin < 0 {
			return 0, fault.Refuse("meter_min", "a meter stands at 0 or more, enter the reading")
		}
		if err := t.pulls(m); err != nil {
			return 0, err
		}
		if err := t.add(&m, machineNamed(m)); err != nil {
			return 0, err
		}
		return m.ID, t.tell("machine", m.ID, "added the machine %s", m.Name)
	})
}

// ChangeMachine changes a machine's measures; its meter and what it costs stay.
func (s *Store) ChangeMachine(ctx context.Context, a job.Act, m machine.Machine) error {
	return s.done(ctx, a, "change a machine", func(t tx) error {
		m.Owning = nil
		if err := t.pulls(m); err != nil {
			return err
		}
		if err := t.change(&m, "machine", m.ID, machineNamed(m), "MeterMin", "MeterOn"); err != nil {
			return err
		}
		return t.tell("machine", m.ID, "changed the machine %s", m.Name)
	})
}

// ReadMeter moves a machine's meter forward to a reading in minutes. A reading below the
// last one is refused, and so is one of an earlier day.
func (s *Store) ReadMeter(ctx context.Context, a job.Act, id, minutes int64, on unit.Date) error {
	return s.done(ctx, a, "read a meter", func(t tx) error {
		m, err := locked[machine.Machine](t, "machine", id)
		switch {
		case err != nil:
			return err
		case minutes < m.MeterMin:
			return fault.Refuse("meter_min", "the meter of %s stood at %s on %s, a reading of %s lies below it: read it again, or correct the earlier one",
				m.Name, meter(m.MeterMin), m.MeterOn, meter(minutes))
		case on < m.MeterOn:
			return fault.Refuse("meter_on", "the meter of %s was last read on %s, enter that day or a later one", m.Name, m.MeterOn)
		}
		if err := t.setMeter(id, minutes, on); err != nil {
			return err
		}
		return t.tell("machine", id, "read the meter of %s at %s", m.Name, meter(minutes))
	})
}

// CorrectMeter sets a meter that was read wrong to what it shows, higher or lower, with
// the reason.
func (s *Store) CorrectMeter(ctx context.Context, a job.Act, id, minutes int64, on unit.Date, why string) error {
	return s.done(ctx, a, "correct a meter", func(t tx) error {
		m, err := locked[machine.Machine](t, "machine", id)
		switch {
		case err != nil:
			return err
		case minutes < 0:
			return fault.Refuse("meter_min", "a meter stands at 0 or more, enter what it shows")
		case why == "":
			return fault.Refuse("why", "a corrected meter keeps its reason, enter what was wrong with %s", meter(m.MeterMin))
		}
		if err := t.setMeter(id, minutes, on); err != nil {
			return err
		}
		return t.tell("machine", id, "corrected the meter of %s from %s to %s: %s", m.Name, meter(m.MeterMin), meter(minutes), why)
	})
}

// KeepService keeps that a machine was serviced on a day, at its meter as it stands; the
// next service falls due by its intervals.
func (s *Store) KeepService(ctx context.Context, a job.Act, id int64, on unit.Date, note string) error {
	return s.done(ctx, a, "keep a service", func(t tx) error {
		m, err := locked[machine.Machine](t, "machine", id)
		if err != nil {
			return err
		}
		next := job.Serviced(m, on)
		if err := t.set(&m, "machine", id, map[string]any{"service_due_min": next.ServiceDueMin, "service_on": next.ServiceOn}); err != nil {
			return err
		}
		if note != "" {
			note = ": " + note
		}
		return t.tell("machine", id, "serviced %s on %s at %s%s", m.Name, on, meter(m.MeterMin), note)
	})
}

func (t tx) setMeter(id, minutes int64, on unit.Date) error {
	return t.set(&machine.Machine{}, "machine", id, map[string]any{"meter_min": minutes, "meter_on": on})
}

// meter writes a meter reading as the meter shows it, in tenths of an hour.
func meter(minutes int64) string {
	return fmt.Sprintf("%s h", unit.Grouped(float64(minutes)/60, 1))
}

// pulls refuses a machine that would be pulled by itself, or by one that is pulled.
func (t tx) pulls(m machine.Machine) error {
	if m.PulledByID == 0 {
		return nil
	}
	by, err := locked[machine.Machine](t, "machine", m.PulledByID)
	switch {
	case err != nil:
		return err
	case by.ID == m.ID:
		return fault.Refuse("pulled_by_id", "%s cannot pull itself, choose another machine or none", m.Name)
	case by.PulledByID != 0:
		return fault.Refuse("pulled_by_id", "%s is pulled itself, choose the machine that does the pulling", by.Name)
	}
	var pulled int64
	if err := t.Model(&machine.Machine{}).Where("pulled_by_id = ?", m.ID).Count(&pulled).Error; err != nil || m.ID == 0 || pulled == 0 {
		return err
	}
	return fault.Refuse("pulled_by_id", "%s pulls another machine, so it goes by itself: choose none", m.Name)
}

func machineNamed(m machine.Machine) error {
	return fault.Refuse("name", "a machine is called %s already, open that one or choose another name", m.Name)
}
