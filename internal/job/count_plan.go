package job

import (
	"rowtally/internal/count"
	"rowtally/internal/fault"
	"rowtally/internal/ground"
	"rowtally/internal/rows"
)

// CountWanted is how a job's placements are to be counted.
type CountWanted struct {
	PerStretch    int     // placements in a stretch
	SharePercent  float64 // of placements occupied, as expected
	WithinPercent float64 // points to either side, at 95 %
	Rho           float64 // how much neighbours fail together, 0..1
}

// Size works out how many stretches that takes.
func (w CountWanted) Size() (count.Size, error) {
	return count.SizeOf(count.Wanted{ShareFraction: w.SharePercent / 100, WithinFraction: w.WithinPercent / 100, PerStretch: w.PerStretch, Rho: w.Rho})
}

// DrawCountPlan draws the places of a count at random from the rows as sown. The same number
// on the same rows gives the same places. A job without a sown record is refused.
func (f Facts) DrawCountPlan(w CountWanted, number int64) (count.Plan, error) {
	size, err := w.Size()
	if err != nil {
		return count.Plan{}, err
	}
	laid, err := f.Rows()
	if err != nil {
		return count.Plan{}, err
	}
	if f.Sown == nil {
		return count.Plan{}, fault.Conflict("Places are drawn from the rows as sown, and no log of %s is matched yet. Load the sown log first.", f.Job.Name)
	}
	p := count.Plan{JobID: f.Job.ID, PerStretch: w.PerStretch, SpacingM: f.Layout.SpacingM, BearingDeg: laid.BearingDeg,
		SharePercent: w.SharePercent, WithinPercent: w.WithinPercent, Rho: w.Rho, Number: number}
	drawn, err := count.Draw(laid.sownExtents(*f.Sown), p.LengthM(), size.Stretches, count.NewChance(number))
	for _, d := range drawn {
		p.Places = append(p.Places, laid.countPlace(d))
	}
	return p, err
}

// sownExtents are the planned lengths of row that a record shows sown, row by row.
func (l Laid) sownExtents(s Sown) (out []count.Extent) {
	sown := map[int][][2]float64{}
	for _, row := range s.Rows() {
		sown[row.Row] = row.Sown
	}
	for _, row := range l.Rows {
		for _, span := range row.Spans {
			for _, along := range sown[row.Number] {
				if from, to := max(span.FromM, along[0]), min(span.ToM, along[1]); from < to {
					out = append(out, count.Extent{Row: row.Number, FromM: from, ToM: to})
				}
			}
		}
	}
	return out
}

// countPlace finds a stretch on the earth, and how far from its row's first end it begins.
func (l Laid) countPlace(d count.Drawn) count.Place {
	row := l.numbered(d.Row)
	at, first := l.Place(d.FromM, row.OffsetM), l.Place(row.Spans[0].FromM, row.OffsetM)
	return count.Place{Row: d.Row, AlongM: l.Frame.GroundM(first, at), At: l.Frame.ToEarth(at)}
}

// numbered is the row of a number; every number is of a row.
func (l Laid) numbered(number int) rows.Row {
	for _, row := range l.Rows {
		if row.Number == number {
			return row
		}
	}
	return rows.Row{Spans: make([]rows.Span, 1)}
}

// CountPlan is the plan that counts: the one drawn last.
func (f Facts) CountPlan() (count.Plan, bool) {
	if len(f.CountPlans) == 0 {
		return count.Plan{}, false
	}
	return f.CountPlans[len(f.CountPlans)-1], true
}

// countPlan is the plan of a number in the store.
func (f Facts) countPlan(id int64) (count.Plan, bool) {
	for _, p := range f.CountPlans {
		if p.ID == id {
			return p, true
		}
	}
	return count.Plan{}, false
}

// MapOfCounts draws the rows as planned and sown with the places of a plan, numbered in the
// order of walking; nil while no rows are laid.
func (f Facts) MapOfCounts(p count.Plan) *Map {
	laid, err := f.Rows()
	if err != nil {
		return nil
	}
	m := f.picture(&laid)
	for _, place := range p.Places {
		at := laid.Frame.ToPlane(place.At)
		m.Marks = append(m.Marks, Mark{Metres(at.E), Metres(at.N)})
	}
	return m
}

// CountSheet is the printed sheet that a count is taken on.
type CountSheet struct {
	Business string
	Code     string
	Name     string
	Farm     string
	Made     string // day and number of the draw
	Map      Map
	Plan     count.Plan
	Ends     []ground.LatLon // of the stretches, in the order of the plan's places
	Species  []string        // sown, by common name
	How      []string
	Cautions []string
}

// CountSheetOf lays out the sheet of the plan that counts.
func CountSheetOf(f Facts) (CountSheet, error) {
	p, ok := f.CountPlan()
	if !ok {
		return CountSheet{}, fault.Conflict("No places of %s are drawn yet. Draw them first.", f.Job.Name)
	}
	s := CountSheet{Business: f.Business.Name, Code: f.Job.Code, Name: f.Job.Name, Farm: f.Farm.Name, Plan: p,
		Made: p.DrawnSays(), How: HowToCount(p), Cautions: countCautions}
	if m := f.MapOfCounts(p); m != nil {
		s.Map = *m
	}
	for _, place := range p.Places {
		end, _ := ground.WGS84.Reach(place.At, p.BearingDeg, p.LengthM())
		s.Ends = append(s.Ends, end)
	}
	for _, lot := range f.RecipeLots() {
		s.Species = append(s.Species, lot.CommonName)
	}
	return s, nil
}
