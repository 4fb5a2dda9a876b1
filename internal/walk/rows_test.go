package walk

// rowPlan is calc's answer to a row plan.
type rowPlan struct {
	RowM       float64      `json:"row_m"`
	Placements int          `json:"placements"`
	BeltCount  int          `json:"belt_count"`
	RowCount   int          `json:"row_count"`
	AlleyHa    float64      `json:"alley_ha"`
	Rows       []plannedRow `json:"rows"`
}

type plannedRow struct {
	Row   int    `json:"row"`
	Belt  int    `json:"belt"`
	Spans []span `json:"spans"`
}

type span struct {
	From    place   `json:"from"`
	To      place   `json:"to"`
	LengthM float64 `json:"length_m"`
}

type place struct {
	Lat float64 `json:"lat"`
	Lon float64 `json:"lon"`
}

// layRows sets the layout, draws it, keeps it; every figure is that of calc.
func (w *walk) layRows() {
	b, l := w.contractor, w.layout
	b.open(w.job)
	b.press("Lay the rows")
	b.fill("Bearing of the rows", l.bearingDeg, "Rows to a belt", l.rowsPerBelt, "Alley", l.alleyM, "Headland", l.headlandM,
		"Placements every", l.spacingM, "Leave out rows shorter than", l.leastM)
	if l.gapM != "" {
		b.typeIn("Gap between rows of a belt", l.gapM)
	}
	if l.marginM != "" {
		b.typeIn("Kept clear of holes and no-go areas", l.marginM)
	}
	w.plan = calc[rowPlan](w.t, "row-plan", w.planInput(true))
	figures := []string{fixed(w.plan.RowM/1000, 2) + " row-km", count(w.plan.Placements) + " placements"}
	b.press("Draw them only")
	b.shows(append(figures, count(w.plan.BeltCount)+" belts", fixed(w.plan.AlleyHa, 1)+" ha of alley")...)
	b.draws("outline", "planned")
	b.press("Keep these rows")
	b.shows(figures...)
	b.says(count(w.plan.BeltCount)+" belts", fixed(w.plan.AlleyHa, 1)+" ha of alley")
	b.draws("planned")
	w.addsUpByHand()
}

// planInput is the layout as calc takes it.
func (w *walk) planInput(listed bool) map[string]any {
	l, t := w.layout, w.t
	in := map[string]any{
		"boundary": shapeOf(t, w.boundary), "bearing_deg": amount(t, l.bearingDeg), "rows_per_belt": int(amount(t, l.rowsPerBelt)),
		"alley_m": amount(t, l.alleyM), "headland_m": amount(t, l.headlandM), "placement_spacing_m": amount(t, l.spacingM),
		"least_row_m": amount(t, l.leastM),
	}
	if l.gapM != "" {
		in["row_gap_m"] = amount(t, l.gapM)
	}
	if l.marginM != "" {
		in["no_go_margin_m"] = amount(t, l.marginM)
	}
	if w.noGo != "" {
		in["no_go"] = []polygon{shapeOf(t, w.noGo)}
	}
	if listed {
		in["rows"] = true
	}
	return in
}

// addsUpByHand holds the plan against sums that need no plan: its rows add up, each row
// is as long as the way between its ends, and the ground holds no more rows than it has
// room for.
func (w *walk) addsUpByHand() {
	w.t.Helper()
	f := flatAt(w.plan.Rows[0].Spans[0].From)
	sum := 0.0
	for _, row := range w.plan.Rows {
		for _, s := range row.Spans {
			sum += s.LengthM
			if way := f.distance(s.From, s.To); !near(way, s.LengthM, 0.05) {
				w.t.Errorf("row %d: a stretch of %.2f m has its ends %.2f m apart", row.Row, s.LengthM, way)
			}
		}
	}
	if !near(sum, w.plan.RowM, 0.01) {
		w.t.Errorf("the rows add up to %.2f m, the plan says %.2f", sum, w.plan.RowM)
	}
	if placements := sum / amount(w.t, w.layout.spacingM); !near(placements, float64(w.plan.Placements), 0.51) {
		w.t.Errorf("%.1f placements by hand, the plan says %d", placements, w.plan.Placements)
	}
}
