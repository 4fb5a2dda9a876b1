package site

import "rowtally/internal/job"

// costRates sets what an hour of hands, a km of float and the overhead cost the business.
func (s *site) costRates(r *request) error {
	kept, err := s.Books.CostRates(r.Context())
	if err != nil {
		return err
	}
	f := blank(map[string]string{"labour_per_h": kept.LabourPerH.Plain(), "float_per_km": kept.FloatPerKm.Plain(),
		"overhead_percent": kept.OverheadPercent.String(), "overhead_per_row_km": kept.OverheadPerRowKm.Plain()})
	if r.isPost() {
		f = readForm(r)
		rates := job.CostRates{LabourPerH: f.price("labour_per_h", true), FloatPerKm: f.price("float_per_km", true),
			OverheadPercent: f.price("overhead_percent", true), OverheadPerRowKm: f.price("overhead_per_row_km", true)}
		if f.ok() && rates.OverheadPercent.Float() > 100 {
			f.refuse("overhead_percent", "%s %% is more than the work itself costs: enter 0 to 100.", f.typed["overhead_percent"])
		}
		if f.ok() {
			if err := s.Books.KeepCostRates(r.Context(), r.act(), rates); err == nil {
				return r.see("/business/costs?done=kept")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("business", "What your work costs"), Button: "Keep the rates", Back: "/business",
		Lead: "Your own figures, before tax: what every job's cost is reckoned with. What machines cost stands on each machine's page, what seed and medium cost in the shed.",
		Groups: []group{{Fields: []Field{
			{Name: "labour_per_h", Label: "An hour of hands", Kind: "number", Unit: "$/h", Required: true, Hint: "Wages with leave and superannuation, for work beside the machine hours."},
			{Name: "float_per_km", Label: "A driven km of truck and float", Kind: "number", Unit: "$/km", Required: true},
			{Name: "overhead_percent", Label: "Overhead", Kind: "number", Unit: "% of a job's cost", Required: true, Hint: "Insurance, office, training, hygiene wash-down: what no one job takes."},
			{Name: "overhead_per_row_km", Label: "Overhead by the row-km", Kind: "number", Unit: "$/row-km", Required: true, Hint: "Beside the per cent or instead of them; 0 for none."},
		}}},
	})
}
