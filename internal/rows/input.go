package rows

import (
	"math"
	"slices"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

// Input is what a plan is laid out from. The boundary is a place on the earth, or a
// polygon in metres of any grid, which is then taken for level ground.
type Input struct {
	Boundary          ground.Shape    `json:"boundary,omitempty"`
	BoundaryM         *ground.Polygon `json:"boundary_m,omitempty"`
	NoGo              []NoGo          `json:"no_go,omitempty"`
	HeadlandM         float64         `json:"headland_m"`               // 0..10 000, from every outside
	NoGoMarginM       *float64        `json:"no_go_margin_m,omitempty"` // 0..10 000, from holes and no-go areas; the headland when nil
	BearingDeg        float64         `json:"bearing_deg"`              // -360..360, true
	RowsPerBelt       int             `json:"rows_per_belt"`            // 1..1000
	RowGapM           *float64        `json:"row_gap_m,omitempty"`      // 0.1..1000, between the rows of a belt; not needed for one row
	AlleyM            float64         `json:"alley_m"`                  // 0.1..10 000, between the outer rows of neighbouring belts
	PhaseM            *float64        `json:"phase_m,omitempty"`        // first row, right of the left-most point; the headland when nil
	BestPhase         bool            `json:"best_phase,omitempty"`     // the phase with most row metres, instead of PhaseM
	PlacementSpacingM float64         `json:"placement_spacing_m"`      // 0.01..1000
	LeastRowM         float64         `json:"least_row_m,omitempty"`    // 0..100 000; a shorter span is not sown
	ListRows          bool            `json:"rows,omitempty"`           // whether the answer lists the rows
	FenceSlackM       float64         `json:"fence_slack_m,omitempty"`  // 0..1, by how much a row along a fence may miss its headland

	Edges          []Edge `json:"edges,omitempty"`           // stretches of the outside with a headland of their own
	FromRight      bool   `json:"from_right,omitempty"`      // rows and belts are numbered from the right, where driving begins
	HeadlandPasses int    `json:"headland_passes,omitempty"` // 0..20, belts sown round the edge of what may be sown
	CountHeadlands bool   `json:"count_headlands,omitempty"` // whether the headland passes are in RowM
}

// The most rows that are laid out, the widest paddock, and the most no-go areas.
const (
	MostRows     = 200_000
	WidestM      = 100_000
	MostNoGo     = 10_000
	mostMeetings = 20_000_000 // of rows with edges and margins
)

// check refuses measures out of range. The boundary is checked where it is projected.
func (in Input) check() error {
	for _, m := range []struct {
		field, words string
		value        float64
		low, high    float64
	}{
		{"headland_m", "the headland", in.HeadlandM, 0, 10_000},
		{"no_go_margin_m", "the margin round no-go areas", in.margin(), 0, 10_000},
		{"bearing_deg", "the bearing", in.BearingDeg, -360, 360},
		{"rows_per_belt", "the count of rows in a belt", float64(in.RowsPerBelt), 1, 1000},
		{"alley_m", "the alley", in.AlleyM, 0.1, 10_000},
		{"phase_m", "the first row's place", in.phase(), -WidestM, WidestM},
		{"placement_spacing_m", "the spacing of placements", in.PlacementSpacingM, 0.01, 1000},
		{"least_row_m", "the least row", in.LeastRowM, 0, WidestM},
		{"fence_slack_m", "the slack along a fence", in.FenceSlackM, 0, 1},
		{"headland_passes", "the count of headland passes", float64(in.HeadlandPasses), 0, mostPasses},
	} {
		if !(m.value >= m.low && m.value <= m.high) {
			return fault.Refuse(m.field, "%s is %v, enter a figure from %v to %v", m.words, m.value, m.low, m.high)
		}
	}
	switch gap := in.gap(); {
	case in.RowsPerBelt > 1 && in.RowGapM == nil:
		return fault.Refuse("row_gap_m", "a belt of %d rows needs the gap between its rows, enter it in metres", in.RowsPerBelt)
	case in.RowGapM != nil && !(gap >= 0 && gap <= 1000), in.RowsPerBelt > 1 && gap < 0.1:
		return fault.Refuse("row_gap_m", "the gap between rows is %v, enter a figure from 0.1 to 1000", gap)
	case len(in.NoGo) > MostNoGo:
		return fault.Refuse("no_go", "there are %d no-go areas, at most %d are taken", len(in.NoGo), MostNoGo)
	case in.BestPhase && in.PhaseM != nil:
		return fault.Refuse("phase_m", "the first row's place is given and the best one is asked for, take one of the two out")
	case len(in.Boundary) > 0 && in.BoundaryM != nil:
		return fault.Refuse("boundary_m", "there is a boundary on the earth and one in metres, give one of the two")
	case len(in.Boundary) == 0 && in.BoundaryM == nil:
		return fault.Refuse("boundary", "the boundary is missing, give it as GeoJSON, or boundary_m in metres")
	}
	return in.checkClearances()
}

// boundaryField is the field that the boundary came in.
func (in Input) boundaryField() string {
	if in.BoundaryM != nil {
		return "boundary_m"
	}
	return "boundary"
}

func (in Input) margin() float64 { return orElse(in.NoGoMarginM, in.HeadlandM) }
func (in Input) phase() float64  { return orElse(in.PhaseM, in.HeadlandM) }
func (in Input) gap() float64    { return orElse(in.RowGapM, 0) }

func orElse(given *float64, otherwise float64) float64 {
	if given == nil {
		return otherwise
	}
	return *given
}

// pitchM is the distance from one belt's first row to the next belt's.
func (in Input) pitchM() float64 { return float64(in.RowsPerBelt-1)*in.gap() + in.AlleyM }

// rowMPerHa is the row metres of a hectare without headlands.
func (in Input) rowMPerHa() float64 { return 10_000 * float64(in.RowsPerBelt) / in.pitchM() }

// line is one row line of the layout, whether or not it meets sowable ground.
type line struct {
	index   int
	offsetM float64
	at      int // among all that is clipped along one bearing
}

// lines adds the row lines that can meet a paddock of a width to a list, from the left.
func (in Input) lines(list []line, widthM float64) ([]line, error) {
	pitch, phase := in.pitchM(), in.phase()
	first := max(0, math.Floor(-phase/pitch))
	last := math.Floor((widthM - phase) / pitch)
	if count := (last - first + 1) * float64(in.RowsPerBelt); !(count <= MostRows) {
		return nil, fault.Refuse("alley_m", "the layout has about %.0f rows, at most %d are laid out; enter a wider alley or a smaller paddock", count, MostRows)
	}
	list = slices.Grow(list, max(0, int(last-first+1))*in.RowsPerBelt) // none where the phase lies beyond the paddock
	for belt := int(first); belt <= int(last); belt++ {
		for row := range in.RowsPerBelt {
			offset := phase + pitch*float64(belt) + in.gap()*float64(row)
			if offset >= 0 && offset <= widthM {
				list = append(list, line{index: belt*in.RowsPerBelt + row, offsetM: offset})
			}
		}
	}
	return list, nil
}
