package rows

import "rowtally/internal/ground"

// ListedRow is a row as an answer lists it.
type ListedRow struct {
	Row   int          `json:"row"`
	Belt  int          `json:"belt"`
	Index int          `json:"index"` // i of the layout, from 0
	Back  bool         `json:"back"`  // driven against the bearing
	Spans []ListedSpan `json:"spans"`
}

// ListedSpan is a span as an answer lists it: its ends as {lat, lon}, or as
// [east, north] when the boundary is in metres.
type ListedSpan struct {
	From    any     `json:"from"`
	To      any     `json:"to"`
	LengthM float64 `json:"length_m"`
}

// list writes the rows out.
func (p Plan) list() []ListedRow {
	listed := make([]ListedRow, 0, len(p.Rows))
	for _, row := range p.Rows {
		out := ListedRow{Row: row.Number, Belt: row.Belt, Index: row.Index, Back: row.DrivenBack()}
		for _, span := range row.Spans {
			from, to := p.Ends(row, span)
			out.Spans = append(out.Spans, ListedSpan{p.listedPlace(from), p.listedPlace(to), span.LengthM})
		}
		listed = append(listed, out)
	}
	return listed
}

func (p Plan) listedPlace(at ground.Point) any {
	if p.Frame == nil {
		return [2]float64{at.E, at.N}
	}
	return p.Frame.ToEarth(at)
}
