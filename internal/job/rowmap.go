package job

import (
	"fmt"

	"rowtally/internal/ground"
	"rowtally/internal/unit"
)

// RowMap is the printed map of a job's planned rows: what the picture shows, and the
// figures that stand below it.
type RowMap struct {
	Business string
	Code     string
	Name     string
	Farm     string
	Day      unit.Date
	Map      Map
	Rows     []NumberedRow
	Corners  []ground.LatLon // of the outsides, in the order of Map.Outline
	Layout   string          // belts, alley, bearing in words
	Totals   string          // row-km, rows, headland in words
}

// NumberedRow is one belt's rows by the ends of its first: First to Last are its numbers.
type NumberedRow struct {
	First, Last int
	From, To    [2]Metres // the ends of the belt's first row, outermost
}

// RowMapOf lays out the map of a job's rows as they are laid today.
func RowMapOf(f Facts) (RowMap, error) {
	laid, err := f.Rows()
	if err != nil {
		return RowMap{}, err
	}
	m := RowMap{Business: f.Business.Name, Code: f.Job.Code, Name: f.Job.Name, Farm: f.Farm.Name, Day: f.Today,
		Map: MapOfPlan(laid), Rows: laid.belts(), Layout: laid.Says(), Totals: laid.totals()}
	for _, part := range laid.Ground.Shape {
		m.Corners = append(m.Corners, part.Outer...)
	}
	return m, nil
}

// belts numbers the belts by their rows.
func (l Laid) belts() (belts []NumberedRow) {
	belt := 0
	for _, row := range l.Rows {
		if row.Belt == belt {
			last := &belts[len(belts)-1]
			last.First, last.Last = min(last.First, row.Number), max(last.Last, row.Number)
			continue
		}
		belt = row.Belt
		from, _ := l.Ends(row, row.Spans[0])
		_, to := l.Ends(row, row.Spans[len(row.Spans)-1])
		belts = append(belts, NumberedRow{row.Number, row.Number, [2]Metres{Metres(from.E), Metres(from.N)}, [2]Metres{Metres(to.E), Metres(to.N)}})
	}
	return belts
}

// totals tells what the rows come to, and what they keep clear of.
func (l Laid) totals() string {
	says := fmt.Sprintf("%s row-km in %s and %s; %s placements. Headland %s m, kept clear of holes and no-go areas by %s m.",
		km(l.RowM), unit.Counted(l.RowCount, "row"), unit.Counted(l.BeltCount, "belt"), unit.Grouped(float64(l.Placements), 0), unit.Plain(l.Layout.HeadlandM), unit.Plain(l.Layout.NoGoMarginM))
	for _, more := range []string{l.ClearSays(), l.FallSays()} {
		if more != "" {
			says += " " + more
		}
	}
	return says
}
