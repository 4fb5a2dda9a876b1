package job

import (
	"fmt"
	"math"
	"strings"

	"rowtally/internal/rows"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// matter is one thing that bearings are weighed by.
type matter struct {
	name   string // as a mark is named
	rule   string // how a bearing gets its mark
	weight Weight
	mark   func(Bearing) float64 // 0 to 1
}

// matters are what bearings are weighed by, of all three what has a weight and is known.
func (b Bearings) matters() (out []matter) {
	steepest, fewest := b.ends()
	for _, m := range []struct {
		matter
		known bool
	}{
		{matter{"water", fmt.Sprintf("water: the fall along the rows over the steepest allowed, %s %%", unit.Grouped(steepest, 2)), b.Wish.Water,
			func(one Bearing) float64 { return min(1, one.FallPercent/steepest) }}, b.Fall != nil && steepest > 0},
		{matter{"turns", fmt.Sprintf("turns: the fewest passes allowed, %s, over its own", unit.Grouped(fewest, 0)), b.Wish.Turns,
			func(one Bearing) float64 { return min(1, fewest/float64(max(1, one.Passes))) }}, fewest > 0},
		{matter{"alleys", fmt.Sprintf("alleys: the share of the alley ground that whole passes of %s m cover", unit.Plain(b.Wish.MachineM)), b.Wish.Alleys,
			func(one Bearing) float64 { return 1 - one.PartPercent()/100 }}, b.Wish.MachineM > 0},
	} {
		if m.known && m.weight > 0 {
			out = append(out, m.matter)
		}
	}
	return out
}

// ends are the steepest fall in % and the fewest passes of the bearings allowed; 0 without any.
func (b Bearings) ends() (steepest, fewest float64) {
	for _, one := range b.All {
		if !one.Allowed {
			continue
		}
		steepest = max(steepest, one.FallPercent)
		if passes := float64(one.Passes); fewest == 0 || passes < fewest {
			fewest = passes
		}
	}
	return steepest, fewest
}

// score gives every bearing that leaves a row its score, allowed or not.
func (b *Bearings) score() {
	matters, sum := b.matters(), 0.0
	for _, m := range matters {
		sum += float64(m.weight)
	}
	for i := range b.All {
		for _, m := range matters {
			if b.All[i].RowM > 0 {
				b.All[i].Score += 100 * float64(m.weight) * m.mark(b.All[i]) / sum
			}
		}
	}
}

// Weighed tells whether anything is: without, the row metres alone decide.
func (b Bearings) Weighed() bool { return len(b.matters()) > 0 }

// Rule says by what the best few were chosen.
func (b Bearings) Rule() string {
	among := "Of all 180 bearings"
	if b.Fall != nil {
		among = fmt.Sprintf("Of the bearings whose rows fall %s to %s %%", unit.Plain(b.Wish.LeastFallPercent), unit.Plain(b.Wish.MostFallPercent))
	}
	apart := fmt.Sprintf("one stands for those within %s° of it.", unit.Plain(neighbourDeg))
	var marks []string
	for _, m := range b.matters() {
		marks = append(marks, fmt.Sprintf("%s, counted %d", m.rule, int(m.weight)))
	}
	if marks == nil {
		return fmt.Sprintf("%s, those with the most row metres, since nothing is weighed; %s", among, apart)
	}
	return fmt.Sprintf("%s, those that score most; of equals the one with more row metres, and %s The score is the mean, of 100, of these marks: %s.",
		among, apart, strings.Join(marks, "; "))
}

// NotWeighed says what has a weight and cannot be weighed yet; "" where everything can.
func (b Bearings) NotWeighed() string {
	var missing []string
	if b.Fall == nil && b.Wish.Water > 0 {
		missing = append(missing, "Water is not weighed: no heights of the paddock are read.")
	}
	if b.Wish.MachineM == 0 && b.Wish.Alleys > 0 {
		missing = append(missing, "Alleys are not weighed: no machine's width is entered.")
	}
	return strings.Join(missing, " ")
}

// Says recommends a bearing in one sentence, and why.
func (b Bearings) Says() string {
	if len(b.Best) > 0 {
		best := b.Best[0]
		return fmt.Sprintf("Lay them along %s°: %s row-km and %s%s.", unit.Grouped(best.AlongDeg, 0), km(best.RowM), unit.Counted(best.Turns, "turn"), b.why(best))
	}
	if b.Fall == nil {
		return "No bearing leaves a row: the headland or the least row takes the whole paddock."
	}
	grade, towards := b.Fall.Steepest()
	return fmt.Sprintf("No bearing falls %s to %s %%: the steepest is %s %%, towards %s°.",
		unit.Plain(b.Wish.LeastFallPercent), unit.Plain(b.Wish.MostFallPercent), unit.Grouped(100*grade, 2), unit.Grouped(towards, 0))
}

// why goes on from a bearing's figures to its score beside that of the rows as laid.
func (b Bearings) why(best Bearing) string {
	var said strings.Builder
	if b.Fall != nil {
		fmt.Fprintf(&said, ", falling %s %%", unit.Grouped(best.FallPercent, 2))
	}
	if b.Wish.MachineM > 0 {
		fmt.Fprintf(&said, ", %s %% of the alley ground in part passes", unit.Grouped(best.PartPercent(), 0))
	}
	if matters := b.matters(); len(matters) > 0 {
		var marks []string
		for _, m := range matters {
			marks = append(marks, fmt.Sprintf("%s %s", m.name, unit.Grouped(100*m.mark(best), 0)))
		}
		fmt.Fprintf(&said, ". It scores %s of 100 (%s); as laid now, %s", unit.Grouped(best.Score, 0), listed(marks), unit.Grouped(b.asLaid().Score, 0))
	}
	return said.String()
}

// asLaid is the bearing tried that lies nearest to the layout's own.
func (b Bearings) asLaid() Bearing {
	return b.All[int(math.Round(b.Layout.BearingDeg))%len(b.All)]
}

// Working shows how the best bearing's figures follow.
func (b Bearings) Working() working.Steps {
	if len(b.Best) == 0 {
		return nil
	}
	best := b.Best[0]
	steps := working.Steps{}.
		Add("row metres", fmt.Sprintf("the layout laid along %s°, clipped exactly", unit.Plain(best.BearingDeg)), working.Number(best.RowM, 1), "m", "").
		Add("turns", fmt.Sprintf("%d passes less one", best.Passes), working.Number(float64(best.Turns), 0), "turns", "").
		Add("mean length", fmt.Sprintf("row metres ÷ %d lengths", best.Spans), working.Number(best.MeanSpanM, 1), "m", "")
	if b.Fall != nil {
		steps = steps.Add("rise along it", "east rise × sin + north rise × cos of the bearing", working.Number(100**best.GradeFraction, 3), "%", "")
	}
	if b.Wish.MachineM > 0 {
		steps = steps.Add("alley ground in part passes", fmt.Sprintf("alley ground less what passes of %s m cover from edge to edge; up to %s m over counts as whole", unit.Plain(b.Wish.MachineM), unit.Plain(rows.PassSlackM)),
			working.Number(best.PartPercent(), 1), "%", "")
	}
	return append(steps, b.scoreSteps(best)...)
}

// scoreSteps are the marks of a bearing, and the score they come to.
func (b Bearings) scoreSteps(best Bearing) (steps working.Steps) {
	var parts, weights []string
	for _, m := range b.matters() {
		steps = steps.Add("mark for "+m.name, strings.TrimPrefix(m.rule, m.name+": "), working.Number(100*m.mark(best), 1), "of 100", "")
		parts = append(parts, fmt.Sprintf("%d × %s", int(m.weight), m.name))
		weights = append(weights, fmt.Sprint(int(m.weight)))
	}
	if parts == nil {
		return nil
	}
	return steps.Add("score", fmt.Sprintf("(%s) ÷ (%s)", strings.Join(parts, " + "), strings.Join(weights, " + ")), working.Number(best.Score, 1), "of 100", "")
}
