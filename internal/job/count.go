package job

import (
	"fmt"
	"slices"
	"strings"

	"rowtally/internal/count"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// CountFigures is a count with what follows from it.
type CountFigures struct {
	count.Count
	Plan            count.Plan
	Estimate        count.Estimate
	PlacementsPerHa float64 // of net ground, headlands left out; 0 while no rows are laid
	PerHa           count.PerHa
}

// Counted works out the counts that stand, oldest first.
func (f Facts) Counted() (all []CountFigures) {
	perHa := f.placementsPerHa()
	for _, c := range f.Counts {
		plan, planned := f.countPlan(c.PlanID)
		if !c.Standing() || !planned {
			continue
		}
		if e, err := count.Judge(c.Stretches, plan.Rho); err == nil {
			all = append(all, CountFigures{c, plan, e, perHa, e.PerHa(perHa)})
		}
	}
	return all
}

// placementsPerHa is how many placements stand on a hectare of net ground.
func (f Facts) placementsPerHa() float64 {
	laid, err := f.Rows()
	if err != nil {
		return 0
	}
	return laid.RowMPerHa / f.Layout.SpacingM
}

// LatestCount is the last count of a kind that stands.
func (f Facts) LatestCount(kind count.Kind) (found CountFigures, ok bool) {
	for _, c := range f.Counted() {
		if c.Kind == kind {
			found, ok = c, true
		}
	}
	return found, ok
}

// OwnRho is how much neighbours fail together by the job's own counts, the most of them; ok is
// false while none can tell.
func (f Facts) OwnRho() (rho float64, ok bool) {
	for _, c := range f.Counted() {
		if c.Estimate.Own {
			rho, ok = max(rho, c.Estimate.Rho), true
		}
	}
	return rho, ok
}

// DueCount is the kind of count that the plan is still walked for; ok is false when there is
// no plan, or both counts are taken. It lays no rows, so that the truck's engine stays small.
func (f Facts) DueCount() (kind count.Kind, ok bool) {
	if _, planned := f.CountPlan(); !planned {
		return "", false
	}
	for _, kind := range count.Kinds {
		if !slices.ContainsFunc(f.Counts, func(c count.Count) bool { return c.Kind == kind && c.Standing() }) {
			return kind, true
		}
	}
	return "", false
}

// PlantsSay writes occupied placements to the hectare: "291 ± 46".
func (c CountFigures) PlantsSay() string {
	a := c.PerHa
	if c.Estimate.Even {
		return fmt.Sprintf("%s ± %s", unit.Grouped(a.Plants, 0), unit.Grouped((a.High-a.Low)/2, 0))
	}
	return fmt.Sprintf("%s (%s to %s)", unit.Grouped(a.Plants, 0), unit.Grouped(a.Low, 0), unit.Grouped(a.High, 0))
}

// Says is the count in a sentence: share with its error, day, how much was counted, and what
// counts as occupied.
func (c CountFigures) Says() string {
	says := fmt.Sprintf("%s of %s: %s of placements occupied at 95 %%, %d of %s in %s. Occupied is %s.", sentenceCase(c.Kind.Says()), c.CountedOn,
		c.Estimate.Says(), c.Estimate.Occupied, unit.Counted(c.Estimate.Placements, "placement"), count.StretchesSay(c.Estimate.Stretches), count.Definition)
	if c.PlacementsPerHa > 0 {
		says += fmt.Sprintf(" That is %s plants or more to the net hectare.", c.PlantsSay())
	}
	if n := len(c.Plan.Places); c.Estimate.Stretches < n {
		says += fmt.Sprintf(" %d of the %d places were left out, and what was left out may differ.", n-c.Estimate.Stretches, n)
	}
	return says
}

// Working shows the share and what it comes to on a hectare.
func (c CountFigures) Working() working.Steps {
	steps := c.Estimate.Working()
	if c.PlacementsPerHa == 0 {
		return steps
	}
	return steps.
		Add("placements to the net hectare", "row-metres to the hectare ÷ spacing, headlands left out", working.Number(c.PlacementsPerHa, 1), "placements/ha", "").
		Add("occupied placements to the net hectare", "share × placements; each holds one plant or more", working.Text(c.PlantsSay()), "plants/ha", "")
}

func (c Chain) countsLink() ChainLink {
	link := ChainLink{Name: "Counts", Anchor: "counts", State: Open}
	if c.Rowless() {
		link.State, link.Says = Kept, "No placements to count."
		return link
	}
	if c.Sown == nil && len(c.CountPlans) == 0 {
		link.Says = "After the rows are sown: the first count six to eight weeks later, another the next autumn."
		return link
	}
	link.Doings = []Next{{"Counts", c.path("/counts")}}
	link.Says = "No places are drawn yet. Draw them before anybody looks."
	if plan, ok := c.CountPlan(); ok {
		link.Says = fmt.Sprintf("%s of %d placements are drawn; nothing is counted yet.", count.StretchesSay(len(plan.Places)), plan.PerStretch)
	}
	var says []string
	for _, kind := range count.Kinds {
		found, ok := c.LatestCount(kind)
		if !ok {
			continue
		}
		link.State = Kept
		link.Figures = append(link.Figures, Figure{found.Estimate.Says(), fmt.Sprintf("of placements occupied, %s of %s", kind.Says(), found.CountedOn)})
		says = append(says, found.Says())
		link.Working = append(link.Working, found.Working()...)
	}
	if len(says) > 0 {
		link.Says = strings.Join(says, " ")
	}
	return link
}
