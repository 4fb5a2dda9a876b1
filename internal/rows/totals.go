package rows

import (
	"math"
	"slices"
)

// Totals are the sums of a plan. Areas are of level ground, lengths on the ellipsoid.
type Totals struct {
	PaddockM2  float64 `json:"paddock_m2"`   // outsides less holes, gross: headlands and no-go areas included
	PitchM     float64 `json:"pitch_m"`      // from one belt's first row to the next belt's
	RowMPerHa  float64 `json:"row_m_per_ha"` // of ground without headlands
	RowCount   int     `json:"row_count"`    // rows with at least one span
	SpanCount  int     `json:"span_count"`   // times that the seeder is lowered
	BeltCount  int     `json:"belt_count"`   // belts with at least one row
	RowM       float64 `json:"row_m"`        // row metres: every row counted
	Placements int     `json:"placements"`   // RowM over the spacing, to the nearest whole one
	Turns      int     `json:"turns"`        // passes less one; one pass drives a belt's rows together, over gaps in them too
	DroppedM   float64 `json:"dropped_m"`    // in spans shorter than the least row
	Passes     int     `json:"passes"`       // one for each belt
	DrivenM    float64 `json:"driven_m"`     // driven with the seeder in the ground: where any row of a belt is sown
	NetHa      float64 `json:"net_ha"`       // RowM over RowMPerHa: the ground that the rows and their alleys take
	AlleyHa    float64 `json:"alley_ha"`     // the alleys' share of NetHa

	PhaseM       float64 `json:"phase_m"`         // where the first row line stands, right of the left-most point
	NonWorkingM  float64 `json:"non_working_m"`   // an estimate: driven with the seeder lifted, see Plan.nonWorkingM
	HeadlandRowM float64 `json:"headland_row_m"`  // row metres of the headland passes; in RowM and Placements where the input counts them
	HeadlandLaps int     `json:"headland_passes"` // passes round the headland that leave a row
}

// addRow adds a row from what may be sown of its line; its spans stand at the end of a list
// of all.
func (p *Plan) addRow(line line, sowable []stretch, spans []Span) []Span {
	row, begun := Row{Index: line.index, OffsetM: line.offsetM}, len(spans)
	for _, s := range sowable {
		span := Span{FromM: s.from, ToM: s.to, LengthM: p.groundM(s, line.offsetM)}
		if span.LengthM < p.in.LeastRowM {
			p.DroppedM += span.LengthM
			continue
		}
		spans = append(spans, span)
		p.RowM += span.LengthM
	}
	if len(spans) == begun {
		return spans
	}
	row.Spans = spans[begun:len(spans):len(spans)]
	row.Number, row.Belt = len(p.Rows)+1, 1
	if last := len(p.Rows) - 1; last >= 0 {
		row.Belt = p.Rows[last].Belt
		if p.Rows[last].Index/p.in.RowsPerBelt != row.Index/p.in.RowsPerBelt {
			row.Belt++
		}
	}
	p.Rows = append(p.Rows, row)
	p.SpanCount += len(row.Spans)
	return spans
}

// groundM is the length on the ellipsoid of a stretch of a row line.
func (p *Plan) groundM(s stretch, offsetM float64) float64 {
	if p.Frame == nil {
		return s.to - s.from
	}
	return p.Frame.GroundM(p.Place(s.from, offsetM), p.Place(s.to, offsetM))
}

// total works out the figures that follow from the rows, but for the driving.
func (p *Plan) total(paddockM2 float64) {
	p.PaddockM2, p.PitchM, p.RowMPerHa = paddockM2, p.in.pitchM(), p.in.rowMPerHa()
	p.RowCount = len(p.Rows)
	if p.RowCount > 0 {
		p.BeltCount = p.Rows[p.RowCount-1].Belt
	}
	if p.in.FromRight {
		p.numberFromRight()
	}
	p.PhaseM = p.in.phase()
	p.countPasses()
	p.Passes = p.BeltCount
	p.Turns = max(0, p.Passes-1)
	p.Placements = int(math.Round(p.RowM / p.in.PlacementSpacingM))
	p.NetHa = p.RowM / p.RowMPerHa
	p.AlleyHa = p.NetHa * p.in.AlleyM / p.PitchM
}

// drive works out what is driven over the rows.
func (p *Plan) drive() {
	for start := 0; start < len(p.Rows); {
		end := start + 1
		for end < len(p.Rows) && p.Rows[end].Belt == p.Rows[start].Belt {
			end++
		}
		p.DrivenM += p.drivenM(p.Rows[start:end])
		start = end
	}
	p.NonWorkingM = p.nonWorkingM()
}

// countPasses sums the headland passes, into the row metres too where that is asked for.
func (p *Plan) countPasses() {
	laps := map[int]bool{}
	for _, row := range p.Headland {
		p.HeadlandRowM += row.LengthM
		laps[row.Pass] = true
	}
	p.HeadlandLaps = len(laps)
	if p.in.CountHeadlands {
		p.RowM += p.HeadlandRowM
	}
}

// drivenM is the length of a belt over which any of its rows is sown, along its first.
func (p *Plan) drivenM(belt []Row) float64 {
	spans := make([]stretch, 0, len(belt[0].Spans))
	for _, row := range belt {
		for _, span := range row.Spans {
			spans = append(spans, stretch{span.FromM, span.ToM})
		}
	}
	slices.SortFunc(spans, byStart)
	sum, reached := 0.0, math.Inf(-1)
	for _, s := range spans {
		if s.from = max(s.from, reached); s.to > s.from {
			sum += p.groundM(s, belt[0].OffsetM)
			reached = s.to
		}
	}
	return sum
}
