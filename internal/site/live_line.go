package site

import (
	"fmt"
	"strings"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// liveLine draws the live seed that the jobs want, step by step over the weeks of the strip,
// below the seed that lies ready.
type liveLine struct {
	Width, Height, Foot float64
	Need, Free          string // paths
	Labels              []liveLabel
	Says                []string
}

type liveLabel struct {
	X, Y float64
	Text string
	End  bool // ends at X
}

const (
	liveTop    = 26.0
	liveBottom = 130.0
)

// liveLineOf is nil where no job wants seed.
func liveLineOf(s job.Season) *liveLine {
	l := s.Live
	if len(l.Steps) == 0 {
		return nil
	}
	x := weeksOf(s.On)
	most := max(l.Free, l.Steps[len(l.Steps)-1].Need)
	y := func(seeds float64) float64 { return liveBottom - (liveBottom-liveTop)*seeds/most }
	right := stripLeft + stripWeekW*stripWeeks
	k := &liveLine{Width: stripLeft + stripWeekW*(stripWeeks+1.6), Height: liveBottom + 10, Foot: liveBottom,
		Free: fmt.Sprintf("M%.1f %.1fH%.1f", stripLeft, y(l.Free), right)}
	k.Labels = append(k.Labels, liveLabel{right, y(l.Free) - 6, millions(l.Free) + " ready", true})
	var need strings.Builder
	fmt.Fprintf(&need, "M%.1f %.1f", stripLeft, y(0))
	last := 0.0
	for _, step := range l.Steps {
		at := x(step.On)
		fmt.Fprintf(&need, "H%.1fV%.1f", at, y(step.Need))
		last = at
	}
	fmt.Fprintf(&need, "H%.1f", right)
	k.Need = need.String()
	end := l.Steps[len(l.Steps)-1]
	k.Labels = append(k.Labels, liveLabel{last + 6, y(end.Need) - 6, millions(end.Need) + " wanted by " + end.On.Time().Format("2 Jan"), false})
	k.Says = liveSays(l)
	return k
}

func liveSays(l job.LiveSeed) []string {
	says := []string{"All shrub species together, by the test that counts; each job's own lots are on its page."}
	if l.ShortOn != "" {
		says = append([]string{fmt.Sprintf("From %s on the jobs want more live seed than lies ready.", l.ShortOn)}, says...)
	}
	if l.Held > 0 {
		says = append(says, millions(l.Held)+" more lie on hold or want a test.")
	}
	if l.Unset > 0 {
		says = append(says, millions(l.Unset)+" are wanted by jobs without a window.")
	}
	if l.Unsaid > 0 {
		says = append(says, fmt.Sprintf("Jobs with rows and no lots chosen yet: %d.", l.Unsaid))
	}
	return says
}

// millions writes a count of seeds as people say it.
func millions(seeds float64) string {
	if seeds < 1e6 {
		return unit.Grouped(seeds/1e3, 0) + " thousand live seeds"
	}
	return unit.Grouped(seeds/1e6, 2) + " million live seeds"
}
