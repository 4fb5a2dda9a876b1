package job

import (
	"fmt"

	"rowtally/internal/unit"
	"rowtally/internal/working"
)

const liftedRule = "an estimate: gaps within passes, and straight from the end of each pass to the start of the next, there and back in turn; turning loops not counted"

// phaseWorking tells how the first row's place was chosen, what the least row left out, and
// what the headland passes come to.
func (l Laid) phaseWorking(steps working.Steps) working.Steps {
	how := map[Phase]string{
		PhaseAtHeadland: "the headland away from the left-most point",
		PhaseTyped:      "as typed, from the left-most point",
		PhaseBest:       "of places a step apart over one pitch (0.1 m, wider for a pitch over 20 m) the one with most row length; of equal ones the smallest",
	}[l.Layout.Phase]
	steps = steps.Add("first row", how, working.Number(l.PhaseM, 1), "m", "")
	if l.Layout.LeastRowM > 0 {
		steps = steps.Add("left out", fmt.Sprintf("lengths shorter than %s m", unit.Plain(l.Layout.LeastRowM)), working.Number(l.DroppedM, 1), "m", "")
	}
	if l.Layout.HeadlandPasses > 0 {
		steps = steps.Add("headland passes", fmt.Sprintf("%d round the edge of what may be sown, straight pieces and arcs, every row of each; %s", l.Layout.HeadlandPasses, l.countedWords()),
			working.Number(l.HeadlandRowM, 1), "m", "")
	}
	return steps
}

func (l Laid) countedWords() string {
	if l.Layout.CountHeadlands {
		return "in the row-km"
	}
	return "not in the row-km"
}

// DroppedSays tells what the least row leaves out; "" where that is nothing.
func (l Laid) DroppedSays() string {
	if l.DroppedM <= 0 {
		return ""
	}
	return fmt.Sprintf("Lengths shorter than %s m are left out: %s m in all.", unit.Plain(l.Layout.LeastRowM), unit.Grouped(l.DroppedM, 0))
}

// HeadlandSays tells of the headland passes; "" without any.
func (l Laid) HeadlandSays() string {
	if l.Layout.HeadlandPasses == 0 {
		return ""
	}
	matched := "The log is laid over the straight rows alone: what it shows on the headland stands as unplanned."
	if l.CountsHeadland() {
		matched = "The log is laid over them as over the rows."
	}
	return fmt.Sprintf("%s round the headland: %s row-km, %s. %s", unit.Counted(l.HeadlandLaps, "pass"), km(l.HeadlandRowM), l.countedWords(), matched)
}

// ClearSays tells which edges and no-go areas ask for a clearance of their own.
func (l Laid) ClearSays() string { return l.clearances() }
