package job

import (
	"fmt"

	"rowtally/internal/fault"
	"rowtally/internal/rows"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// Laid is a job's rows in its paddock.
type Laid struct {
	Layout Layout
	Ground Ground
	rows.Plan
}

// Lay lays a layout's rows in a paddock. It refuses, naming the field, what cannot be laid.
func Lay(p Paddock, l Layout) (Laid, error) {
	survey, err := Survey(p)
	if err != nil {
		return Laid{}, err
	}
	return survey.lay(l)
}

// lay lays a layout's rows on surveyed ground.
func (g Ground) lay(l Layout) (Laid, error) {
	in, err := planInput(g, l)
	if err != nil {
		return Laid{}, err
	}
	plan, err := rows.Lay(in)
	if err != nil {
		return Laid{}, err
	}
	if plan.RowM == 0 {
		return Laid{}, fault.Refuse("headland_m", "no row fits: the headland of %s m and the least row leave nothing of the paddock, make them smaller", unit.Plain(l.HeadlandM))
	}
	return Laid{l, g, plan}, nil
}

// fenceSlackM is by how much, in metres, a row along a fence may miss its headland: no more than
// corners read from imagery or a receiver are known to. Our own choice.
const fenceSlackM = 0.1

func planInput(g Ground, l Layout) (in rows.Input, err error) {
	in = rows.Input{
		Boundary: g.Shape, HeadlandM: l.HeadlandM, NoGoMarginM: &l.NoGoMarginM, BearingDeg: l.BearingDeg,
		RowsPerBelt: l.RowsPerBelt, AlleyM: l.AlleyM, PlacementSpacingM: l.SpacingM, LeastRowM: l.LeastRowM,
		BestPhase: l.Phase == PhaseBest, FromRight: l.FromRight, HeadlandPasses: l.HeadlandPasses, CountHeadlands: l.CountHeadlands,
		FenceSlackM: fenceSlackM,
	}
	if l.Phase == PhaseTyped {
		in.PhaseM = &l.PhaseM
	}
	if l.RowsPerBelt > 1 {
		in.RowGapM = &l.RowGapM
	}
	if in.Edges, err = l.edges(g); err != nil {
		return in, err
	}
	in.NoGo, err = l.noGo(g)
	return in, err
}

// Rows lays the job's rows as its layout says.
func (f Facts) Rows() (Laid, error) {
	if f.Paddock.Boundary == "" {
		return Laid{}, fault.Conflict("No boundary of %s is read yet. Read it in before the rows are laid.", f.Paddock.Name)
	}
	if f.Layout == nil {
		return Laid{}, fault.Conflict("The rows are not laid yet. Set bearing, belt and alley first.")
	}
	if f.known == nil {
		return f.lay()
	}
	return f.known.rows.of(laidAs{f.Paddock, *f.Layout}, f.lay)
}

// Says tells the layout in one sentence.
func (l Laid) Says() string {
	belt := "Single rows"
	if n := l.Layout.RowsPerBelt; n > 1 {
		belt = fmt.Sprintf("%d rows %s m apart to a belt", n, unit.Plain(l.Layout.RowGapM))
	}
	return fmt.Sprintf("%s, alley %s m, along %s° true; a placement every %s m.",
		belt, unit.Plain(l.Layout.AlleyM), unit.Plain(l.Layout.BearingDeg), unit.Plain(l.Layout.SpacingM))
}

// FallSays tells how the rows run down the fall, as a sentence; "" while no heights are read.
func (l Laid) FallSays() string {
	if l.Ground.Fall == nil {
		return ""
	}
	return sentenceCase(RowsFall(*l.Ground.Fall, l.Layout.BearingDeg)) + "."
}

// Working shows how row-km and placements follow from the layout.
func (l Laid) Working() working.Steps {
	n := l.Layout.RowsPerBelt
	steps := working.Steps{}.
		Add("belt pitch", fmt.Sprintf("%d × %s m + %s m", n-1, unit.Plain(l.Layout.RowGapM), unit.Plain(l.Layout.AlleyM)), working.Number(l.PitchM, 2), "m", "").
		Add("row-metres to the hectare", fmt.Sprintf("10 000 × %d ÷ pitch", n), working.Number(l.RowMPerHa, 1), "m/ha", "").
		Add("rows", fmt.Sprintf("row lines clipped to the paddock, headland and no-go margins taken off exactly; a row along a fence may miss its headland by %s m", unit.Plain(fenceSlackM)), working.Number(float64(l.RowCount), 0), "rows", "").
		Add("belts", "belts with at least one row", working.Number(float64(l.BeltCount), 0), "belts", "").
		Add("row length", "sum of the clipped spans, on the ellipsoid", working.Number(l.RowM, 1), "m", "").
		Add("row-km", "row length ÷ 1000, each row counted", working.Number(l.RowM/1000, 2), "row-km", "").
		Add("placements", fmt.Sprintf("row length ÷ %s m", unit.Plain(l.Layout.SpacingM)), working.Number(float64(l.Placements), 0), "placements", "").
		Add("driven", "belts are passed once each", working.Number(l.DrivenM/1000, 2), "driven km", "").
		Add("turns", "passes less one", working.Number(float64(l.Turns), 0), "turns", "").
		Add("lifted", liftedRule, working.Number(l.NonWorkingM/1000, 2), "driven km", "").
		Add("net ground", "row length ÷ row-metres to the hectare", working.Number(l.NetHa, 2), "ha", "").
		Add("alleys", fmt.Sprintf("net ground × %s m ÷ pitch", unit.Plain(l.Layout.AlleyM)), working.Number(l.AlleyHa, 2), "ha", "")
	steps = l.phaseWorking(steps)
	if fall := l.Ground.Fall; fall != nil {
		steps = steps.Add("rise along the rows", fmt.Sprintf("%s %% east × sin %s° + %s %% north × cos %[2]s°", unit.Grouped(100*fall.EastRise, 3),
			unit.Plain(l.Layout.BearingDeg), unit.Grouped(100*fall.NorthRise, 3)), working.Number(100*fall.GradeAlong(l.Layout.BearingDeg), 3), "%", "")
	}
	return steps
}

func (c Chain) groundLink() ChainLink {
	link := ChainLink{Name: "Ground", Anchor: "ground", State: Open}
	if c.Paddock.Boundary == "" {
		link.Says = "No boundary is read yet."
		link.Doings = []Next{{"Read in the boundary", fmt.Sprintf("/paddocks/%d/boundary", c.Paddock.ID)}, {"Visit sheet", c.path("/visit.pdf")}}
		return link
	}
	survey, err := c.Survey()
	if err != nil {
		link.Warning = err.Error()
		return link
	}
	link.State = Kept
	link.Figures = []Figure{figure(survey.GrossM2/1e4, 1, "ha gross")}
	link.Says = fmt.Sprintf("Read on %s from %s.", c.Paddock.ReadOn, c.Paddock.Source)
	if c.Job.VisitedOn != "" {
		link.Says += fmt.Sprintf(" Looked at on %s. %s", c.Job.VisitedOn, c.Job.VisitNote)
	}
	link.Working = survey.Working()
	link.Doings = []Next{{"The paddock", fmt.Sprintf("/paddocks/%d", c.Paddock.ID)}, {"Visit sheet", c.path("/visit.pdf")}}
	return c.sited(link)
}

func (c Chain) rowsLink() ChainLink {
	link := ChainLink{Name: "Rows", Anchor: "rows", State: Open, Doings: []Next{{"Lay the rows", c.path("/rows")}}}
	if c.Rowless() {
		link.State, link.Says = Kept, "No shrub rows: this job is priced without them."
		return link
	}
	if c.Layout == nil {
		link.Says = "Not laid yet."
		if c.ruledOut() != "" {
			link.Says = "None are laid: the readings rule them out."
		}
		return link
	}
	if c.laid == nil {
		_, err := c.Rows()
		link.Warning = "The rows cannot be laid: " + err.Error()
		return link
	}
	link.State = Kept
	link.Figures = []Figure{{km(c.laid.RowM), "row-km"}, figure(float64(c.laid.Placements), 0, "placements")}
	link.Says = c.laid.Says() + fmt.Sprintf(" %d belts, %s driven km, %d turns, %s ha of alley.",
		c.laid.BeltCount, unit.Grouped(c.laid.DrivenM/1000, 1), c.laid.Turns, unit.Grouped(c.laid.AlleyHa, 1))
	if falls := c.laid.FallSays(); falls != "" {
		link.Says += " " + falls
	}
	link.Working = c.laid.Working()
	link.Doings = []Next{{"Change the rows", c.path("/rows")}, {"Try every bearing", c.path("/bearing")}}
	return link
}
