package site

import (
	"fmt"

	"rowtally/internal/seed"
)

// lotPath is a lot's own page.
func lotPath(id int64) string { return fmt.Sprintf("/shed/lots/%d", id) }

// lotStore keeps where a lot lies from a day on, and how.
func (s *site) lotStore(r *request) error {
	lot, err := named(r, s.Books.Lot)
	if err != nil {
		return err
	}
	f := blank(map[string]string{"since": string(lot.ReceivedOn)})
	if r.isPost() {
		f = readForm(r)
		c := seed.StorageCondition{
			LotID: lot.ID, Since: f.past("since", true, r.today()), Place: f.must("place", "Enter where it lies."),
			MoisturePercent: f.maybeMeasure("moisture_percent"), TemperatureC: f.maybeMeasure("temperature_c"), Note: f.text("note"),
		}
		if f.ok() {
			if _, err := s.Books.AddStorageCondition(r.Context(), r.act(), c); err == nil {
				return r.see(lotPath(lot.ID) + "?done=kept#store")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("shed", "Where "+lot.Code+" lies"), Button: "Keep it", Back: lotPath(lot.ID),
		Lead: "Each place holds from its day until the next one begins. With moisture and temperature, the lot's life is foreseen where constants are published for its species.",
		Groups: []group{{Fields: []Field{
			{Name: "since", Label: "Since", Kind: "date", Required: true},
			{Name: "place", Label: "Place", Required: true, Hint: "Cool room, shed in bags, on the truck …"},
			{Name: "moisture_percent", Label: "Moisture of the seed", Kind: "number", Unit: "% of wet weight"},
			{Name: "temperature_c", Label: "Temperature of the store", Kind: "number", Inputmode: "text", Unit: "°C", Hint: "Over the year; where it swings, nearer the warm end."},
			{Name: "note", Label: "Note"},
		}}},
	})
}

// lotStoreDrop takes a mistaken place off a lot.
func (s *site) lotStoreDrop(r *request) error {
	id, err := r.id("id")
	if err != nil {
		return err
	}
	condition, err := r.id("condition")
	if err != nil {
		return err
	}
	if err := s.Books.DropStorageCondition(r.Context(), r.act(), condition); err != nil {
		return err
	}
	return r.see(lotPath(id) + "?done=off#store")
}
