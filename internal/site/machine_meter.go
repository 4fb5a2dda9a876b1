package site

import (
	"fmt"

	"rowtally/internal/machine"
)

func meterFields() []Field {
	return []Field{
		{Name: "meter_h", Label: "Meter stands at", Kind: "number", Unit: "h", Required: true},
		{Name: "meter_on", Label: "Read on", Kind: "date", Required: true},
	}
}

// machineReading moves a meter forward.
func (s *site) machineReading(r *request) error {
	id, err := r.id("id")
	if err != nil {
		return err
	}
	f := readForm(r)
	minutes, on := f.minutes("meter_h", mostMeterH), f.past("meter_on", true, r.today())
	if f.ok() {
		if err := s.Books.ReadMeter(r.Context(), r.act(), id, minutes, on); err == nil {
			return r.see(fmt.Sprintf("/machines/%d?done=kept", id))
		} else if err := f.take(err); err != nil {
			return err
		}
	}
	f.as("meter_min", "meter_h")
	return s.drawMachine(r, f)
}

// machineCorrect sets a meter right that was misread or replaced.
func (s *site) machineCorrect(r *request) error {
	m, err := named(r, s.Books.Machine)
	if err != nil {
		return err
	}
	f := blank(map[string]string{"meter_on": string(r.today())})
	if r.isPost() {
		f = readForm(r)
		minutes, on := f.minutes("meter_h", mostMeterH), f.past("meter_on", true, r.today())
		why := f.must("why", "Say what was wrong: the journal keeps it.")
		if f.ok() {
			if err := s.Books.CorrectMeter(r.Context(), r.act(), m.ID, minutes, on, why); err == nil {
				return r.see(fmt.Sprintf("/machines/%d?done=kept", m.ID))
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, correctPage(r, m))
}

func correctPage(r *request, m machine.Machine) formPage {
	return formPage{
		Frame: r.frame("machines", "Correct the meter of "+m.Name), Button: "Correct it", Back: fmt.Sprintf("/machines/%d", m.ID),
		Lead:   fmt.Sprintf("The books have %s h, read on %s. Correct it when it was misread, or when the meter was replaced.", hoursOf(m.MeterMin), m.MeterOn),
		Groups: []group{{Fields: append(meterFields(), Field{Name: "why", Label: "What was wrong", Required: true})}},
	}
}

func serviceFields() []Field {
	return []Field{
		{Name: "serviced_on", Label: "Serviced on", Kind: "date", Required: true},
		{Name: "serviced_note", Label: "What was done"},
	}
}

// machineServiced keeps a service at the meter as it stands.
func (s *site) machineServiced(r *request) error {
	id, err := r.id("id")
	if err != nil {
		return err
	}
	f := readForm(r)
	on, note := f.past("serviced_on", true, r.today()), f.text("serviced_note")
	if f.ok() {
		if err := s.Books.KeepService(r.Context(), r.act(), id, on, note); err == nil {
			return r.see(fmt.Sprintf("/machines/%d?done=kept", id))
		} else if err := f.take(err); err != nil {
			return err
		}
	}
	return s.drawMachine(r, f)
}
