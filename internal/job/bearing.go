package job

import (
	"fmt"
	"math"
	"sort"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
	"rowtally/internal/rows"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// Wish is how the contractor weighs one bearing against another.
type Wish struct {
	LeastFallPercent float64 // rows that fall less do not carry water off
	MostFallPercent  float64 // rows that fall more wash out
	TurnM            float64 // how many metres of row one turn is worth
}

// BeginWish is what a sweep begins with: every fall allowed, a turn for nothing. The
// contractor sets all three; none is a published figure.
func BeginWish() Wish { return Wish{0, 100, 0} }

// Check refuses a wish that nothing can meet, by its field.
func (w Wish) Check() error {
	switch {
	case !(w.LeastFallPercent >= 0 && w.LeastFallPercent <= 100):
		return fault.Refuse("least_fall", "%s %% is no fall, enter 0 to 100", plain(w.LeastFallPercent))
	case !(w.MostFallPercent >= w.LeastFallPercent && w.MostFallPercent <= 100):
		return fault.Refuse("most_fall", "%s %% is below the least, or no fall: enter %s to 100", plain(w.MostFallPercent), plain(w.LeastFallPercent))
	case !(w.TurnM >= 0 && w.TurnM <= 10_000):
		return fault.Refuse("turn_m", "%s m cannot be, enter 0 to 10 000", plain(w.TurnM))
	}
	return nil
}

// Bearings is a layout tried along every bearing, a degree apart.
type Bearings struct {
	Layout Layout
	Wish   Wish
	Fall   *ground.Fall // nil while no heights are read: then no bearing is left out
	All    []Bearing    // 0 to 179°
	Best   []Bearing    // the best few by the wish, best first
}

// Bearing is one bearing tried.
type Bearing struct {
	rows.Heading
	FallPercent float64 // how steeply the rows fall, one way or the other
	AlongDeg    float64 // the way in which they fall; the bearing itself where no fall is known
	Allowed     bool    // the fall lies within the wish
	WorthM      float64 // row metres less what the turns are worth
}

// The best few: how many, and how far apart, so that one stands for its neighbours.
const (
	bestBearings = 5
	neighbourDeg = 8.0
)

// TryBearings lays a layout's rows along every bearing and picks the best few.
func TryBearings(p Paddock, l Layout, w Wish) (Bearings, error) {
	if err := w.Check(); err != nil {
		return Bearings{}, err
	}
	survey, err := Survey(p)
	if err != nil {
		return Bearings{}, err
	}
	in, err := planInput(survey, l)
	if err != nil {
		return Bearings{}, err
	}
	headings, err := rows.Sweep(in, 1, survey.Fall)
	if err != nil {
		return Bearings{}, err
	}
	b := Bearings{Layout: l, Wish: w, Fall: survey.Fall}
	for _, h := range headings {
		b.All = append(b.All, w.weigh(h))
	}
	b.pick()
	return b, nil
}

func (w Wish) weigh(h rows.Heading) Bearing {
	b := Bearing{Heading: h, AlongDeg: h.BearingDeg, Allowed: h.RowM > 0, WorthM: h.RowM - w.TurnM*float64(h.Turns)}
	if h.GradeFraction == nil {
		return b
	}
	b.FallPercent = 100 * math.Abs(*h.GradeFraction)
	if *h.GradeFraction > 0 {
		b.AlongDeg = opposite(h.BearingDeg)
	}
	b.Allowed = b.Allowed && b.FallPercent >= w.LeastFallPercent && b.FallPercent <= w.MostFallPercent
	return b
}

// pick takes the bearings worth most, leaving out the neighbours of one taken already.
func (b *Bearings) pick() {
	order := append([]Bearing(nil), b.All...)
	sort.SliceStable(order, func(i, k int) bool { return order[i].WorthM > order[k].WorthM })
	for _, candidate := range order {
		if len(b.Best) < bestBearings && candidate.Allowed && !b.taken(candidate) {
			b.Best = append(b.Best, candidate)
		}
	}
}

func (b *Bearings) taken(candidate Bearing) bool {
	for _, best := range b.Best {
		if math.Abs(math.Remainder(candidate.BearingDeg-best.BearingDeg, 180)) <= neighbourDeg {
			return true
		}
	}
	return false
}

// Rule says by what the best few were chosen.
func (b Bearings) Rule() string {
	among := "Of all 180 bearings"
	if b.Fall != nil {
		among = fmt.Sprintf("Of the bearings whose rows fall %s to %s %%", plain(b.Wish.LeastFallPercent), plain(b.Wish.MostFallPercent))
	}
	return fmt.Sprintf("%s, those with the most row metres, less %s m for every turn; one stands for those within %s° of it.",
		among, plain(b.Wish.TurnM), plain(neighbourDeg))
}

// Says answers what the sweep found in one sentence.
func (b Bearings) Says() string {
	if len(b.Best) > 0 {
		best := b.Best[0]
		return fmt.Sprintf("Along %s°: %s row-km and %s.", unit.Grouped(best.AlongDeg, 0), km(best.RowM), counted(best.Turns, "turn"))
	}
	if b.Fall == nil {
		return "No bearing leaves a row: the headland or the least row takes the whole paddock."
	}
	grade, towards := b.Fall.Steepest()
	return fmt.Sprintf("No bearing falls %s to %s %%: the steepest is %s %%, towards %s°.",
		plain(b.Wish.LeastFallPercent), plain(b.Wish.MostFallPercent), unit.Grouped(100*grade, 2), unit.Grouped(towards, 0))
}

// Working shows how the best bearing's figures follow.
func (b Bearings) Working() working.Steps {
	if len(b.Best) == 0 {
		return nil
	}
	best := b.Best[0]
	steps := working.Steps{}.
		Add("row metres", fmt.Sprintf("the layout laid along %s°, clipped exactly", plain(best.BearingDeg)), working.Number(best.RowM, 1), "m", "").
		Add("turns", fmt.Sprintf("%d passes less one", best.Passes), working.Number(float64(best.Turns), 0), "turns", "").
		Add("mean length", fmt.Sprintf("row metres ÷ %d lengths", best.Spans), working.Number(best.MeanSpanM, 1), "m", "")
	if b.Fall != nil {
		steps = steps.Add("rise along it", "east rise × sin + north rise × cos of the bearing", working.Number(100**best.GradeFraction, 3), "%", "")
	}
	return steps.Add("weighed", fmt.Sprintf("row metres − %s m × turns", plain(b.Wish.TurnM)), working.Number(best.WorthM, 1), "m", "")
}
