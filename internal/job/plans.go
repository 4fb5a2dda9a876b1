package job

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/unit"
)

// RowPlan is one plan of a job's rows as it is set beside another: laid today, or frozen in
// a quote as it was issued.
type RowPlan struct {
	Name    string // "as kept", "Q2026-0003 of 2 Jul 2026"
	Says    string // its layout
	Map     Map
	figures map[string]float64 // by the names of planFigures; a quote holds fewer than a plan
}

// planFigure is one figure that plans are compared by.
type planFigure struct {
	name     string // with its unit
	decimals int
	of       func(Laid) float64
}

const (
	rowKmFigure   = "row-km"
	lengthsFigure = "lengths of row"
	meanFigure    = "mean length, m"
)

var planFigures = []planFigure{
	{rowKmFigure, 2, func(l Laid) float64 { return l.RowM / 1000 }},
	{lengthsFigure, 0, func(l Laid) float64 { return float64(len(MapOfPlan(l).Rows)) }},
	{meanFigure, 0, func(l Laid) float64 { return MapOfPlan(l).meanM() }},
	{"rows", 0, func(l Laid) float64 { return float64(l.RowCount) }},
	{"belts", 0, func(l Laid) float64 { return float64(l.BeltCount) }},
	{"turns", 0, func(l Laid) float64 { return float64(l.Turns) }},
	{"driven km along the rows", 2, func(l Laid) float64 { return l.DrivenM / 1000 }},
	{"placements", 0, func(l Laid) float64 { return float64(l.Placements) }},
	{"hectares of alley", 1, func(l Laid) float64 { return l.AlleyHa }},
}

// meanM is the mean of the map's lengths of row, in metres of its plane; 0 without any.
func (m Map) meanM() (mean float64) {
	for _, s := range m.Rows {
		mean += math.Hypot(float64(s[2]-s[0]), float64(s[3]-s[1])) / float64(len(m.Rows))
	}
	return mean
}

// PlanLaid is a plan as it is laid today, under a name.
func PlanLaid(name string, l Laid) RowPlan {
	p := RowPlan{Name: name, Says: strings.TrimSpace(l.Says() + " " + l.FallSays()), Map: MapOfPlan(l), figures: map[string]float64{}}
	for _, figure := range planFigures {
		p.figures[figure.name] = figure.of(l)
	}
	return p
}

// PlanQuoted is the plan that a quote was issued with: its picture, its row metres and its
// layout as the paper holds them, whatever the paddock and the layout have become since. It
// refuses a quote without rows.
func PlanQuoted(quote bill.Paper) (RowPlan, error) {
	m, drawn, err := ReadMap(quote.Map)
	if err != nil {
		return RowPlan{}, err
	}
	if !drawn || len(m.Rows) == 0 {
		return RowPlan{}, fault.Refuse("beside", "%s was issued without rows, choose another quote or type a layout", quote.Number)
	}
	p := RowPlan{Name: fmt.Sprintf("%s%s of %s", quote.Number, inAlternative(quote), quote.IssuedOn), Map: m, figures: map[string]float64{
		rowKmFigure: quote.RowM / 1000, lengthsFigure: float64(len(m.Rows)), meanFigure: m.meanM(),
	}}
	for _, particular := range quote.Particulars {
		if particular.Heading == layoutHeading {
			p.Says = particular.Text
		}
	}
	return p, nil
}

// PlanLine is one figure of two plans and how the second differs, as shown.
type PlanLine struct {
	Name                      string // with its unit
	First, Second, Difference string
}

// ComparePlans sets the figures that both plans hold side by side, and names those that one
// of them does not hold, as a quote does not. The difference is that of the figures as shown,
// so that the line adds up.
func ComparePlans(first, second RowPlan) (lines []PlanLine, notKept []string) {
	for _, figure := range planFigures {
		a, inFirst := first.figures[figure.name]
		b, inSecond := second.figures[figure.name]
		if !inFirst || !inSecond {
			notKept = append(notKept, figure.name)
			continue
		}
		a, b = asShown(a, figure.decimals), asShown(b, figure.decimals)
		lines = append(lines, PlanLine{figure.name, unit.Grouped(a, figure.decimals), unit.Grouped(b, figure.decimals), signed(b-a, figure.decimals)})
	}
	return lines, notKept
}

// signed writes a difference with its sign; none for nothing.
func signed(v float64, decimals int) string {
	shown := unit.Grouped(v, decimals)
	if asShown(v, decimals) > 0 {
		return "+" + shown
	}
	return shown
}

// asShown is a figure as it stands on a page.
func asShown(v float64, decimals int) float64 {
	shown, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'f', decimals, 64), 64) // what was just written reads back
	return shown
}
