package job

import (
	"fmt"
	"slices"

	"rowtally/internal/bill"
	"rowtally/internal/rows"
	"rowtally/internal/unit"
)

// RowView is one row by itself: as planned, as sown, and the lines of paper it stands behind.
type RowView struct {
	Row, Belt     int
	Before, After int // the rows beside it; 0 at the ends
	PlannedM      float64
	Sown          *SownRow // nil while no log is matched
	Stretches     []RowStretch
	Paper         string // "invoice T2026-0001"; "" while there is none with row-km lines
	Lines         []string
	LinesSay      string
	Drawn         []Stretch // where it lies on the map
}

// RowStretch is a part of a row, in metres on the ground from the row's planned start along
// the bearing; negative before it.
type RowStretch struct {
	FromM, ToM float64
	What       string // "planned", "sown", "sown twice or more", "missed", "sown past the end", "not planned"
}

// LengthM is the stretch's length.
func (s RowStretch) LengthM() float64 { return s.ToM - s.FromM }

// leastShownM is the shortest stretch that is told apart: a shorter one lies within what
// a receiver can tell. Our own setting.
const leastShownM = 0.05

// ViewRow looks at one row of the job. It refuses a number that no row has ("row").
func (f Facts) ViewRow(number int) (RowView, error) {
	if err := f.CheckRow(number); err != nil {
		return RowView{}, err
	}
	laid, err := f.Rows()
	if err != nil {
		return RowView{}, err
	}
	v := RowView{}
	for i, row := range laid.Rows {
		if row.Number != number {
			continue
		}
		v.Row, v.Belt = row.Number, row.Belt
		if i > 0 {
			v.Before = laid.Rows[i-1].Number
		}
		if i+1 < len(laid.Rows) {
			v.After = laid.Rows[i+1].Number
		}
		v.lookAt(laid, row, f.Sown)
	}
	v.addLines(f)
	return v, nil
}

// lookAt measures the row as planned and as sown.
func (v *RowView) lookAt(laid Laid, row rows.Row, record *Sown) {
	for _, span := range row.Spans {
		v.PlannedM += span.LengthM
		v.Drawn = append(v.Drawn, StretchOf(laid.Ends(row, span)))
	}
	if record != nil {
		for _, one := range record.Rows() {
			if one.Row == row.Number {
				v.Sown = &one
			}
		}
	}
	v.Stretches = stretchesAlong(row.Spans, v.Sown)
}

// stretchesAlong parts a row at every place where planned begins or ends, or sown does.
// Without a log nothing is said to be missed.
func stretchesAlong(spans []rows.Span, sown *SownRow) (out []RowStretch) {
	var planned, once, again [][2]float64
	for _, s := range spans {
		planned = append(planned, [2]float64{s.FromM, s.ToM})
	}
	if sown != nil {
		once, again = sown.Sown, sown.Doubled
	}
	start, ground := spans[0].FromM, spans[0].LengthM/(spans[0].ToM-spans[0].FromM)
	cuts := cutsOf(planned, once, again)
	for i := 1; i < len(cuts); i++ {
		middle := (cuts[i-1] + cuts[i]) / 2
		what := whatLies(lies(planned, middle), lies(once, middle), lies(again, middle), sown != nil)
		one := RowStretch{(cuts[i-1] - start) * ground, (cuts[i] - start) * ground, what}
		if last := len(out) - 1; last >= 0 && (out[last].What == what || one.LengthM() < leastShownM) {
			out[last].ToM = one.ToM
			continue
		}
		out = append(out, one)
	}
	return out
}

// cutsOf is every end of some stretches, in order.
func cutsOf(all ...[][2]float64) (cuts []float64) {
	for _, stretches := range all {
		for _, s := range stretches {
			cuts = append(cuts, s[0], s[1])
		}
	}
	slices.Sort(cuts)
	return slices.Compact(cuts)
}

// lies tells whether a place is in any of some stretches.
func lies(stretches [][2]float64, at float64) bool {
	return slices.ContainsFunc(stretches, func(s [2]float64) bool { return at >= s[0] && at <= s[1] })
}

func whatLies(planned, sown, again, logged bool) string {
	switch {
	case planned && again:
		return "sown twice or more"
	case planned && sown:
		return "sown"
	case planned && logged:
		return "missed"
	case planned:
		return "planned"
	case sown:
		return "sown past the end"
	}
	return "not planned"
}

// addLines names the lines by the row-km that the row stands behind: the invoice's as its
// notes leave it, else the quote's.
func (v *RowView) addLines(f Facts) {
	if standing, billed := f.Standing(); billed {
		v.Paper, v.LinesSay = "invoice "+standing.Invoice.Number, "billed"
		v.listLines(f, standing.Lines)
	} else if quote, quoted := f.Quote(); quoted {
		v.Paper, v.LinesSay = "quote "+quote.Number, "quoted, provisional"
		v.listLines(f, f.asAgreed(quote).Lines)
	}
}

func (v *RowView) listLines(f Facts, lines []bill.PaperLine) {
	for _, l := range lines {
		if l.Basis == bill.RowKm {
			v.Lines = append(v.Lines, fmt.Sprintf("line %d: %s, %s %s at %s", l.Position, l.Description, l.Quantity.Fixed(kmDecimals), l.Unit, f.Business.Price(l.UnitPrice, max(2, l.UnitPrice.Decimals()))))
		}
	}
	if len(v.Lines) == 0 {
		v.Paper, v.LinesSay = "", ""
	}
}

// Says tells in a sentence what became of the row.
func (v RowView) Says() string {
	if v.Sown == nil {
		return fmt.Sprintf("Row %d, in belt %d: %s m planned. No log is matched to it yet.", v.Row, v.Belt, unit.Grouped(v.PlannedM, 1))
	}
	return fmt.Sprintf("Row %d, in belt %d: %s m planned, %s m covered, %s m missed, %s m doubled.", v.Row, v.Belt, unit.Grouped(v.Sown.PlannedM, 1),
		unit.Grouped(v.Sown.CoveredM, 1), unit.Grouped(v.Sown.MissedM, 1), unit.Grouped(v.Sown.DoubledM, 1))
}
