package job

import (
	"cmp"
	"math"
	"slices"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
	"rowtally/internal/rows"
	"rowtally/internal/unit"
)

// Weight is how much one matter counts beside the others: 0 to 3.
type Weight int

// MostWeight is the weight of what matters most.
const MostWeight Weight = 3

// weightWords are the weights in words.
var weightWords = [MostWeight + 1]string{"no matter", "a little", "matters", "matters most"}

// String is the weight in words.
func (w Weight) String() string { return weightWords[w] }

// Wish is how the contractor weighs one bearing against another.
type Wish struct {
	LeastFallPercent float64 // rows that fall less do not carry water off
	MostFallPercent  float64 // rows that fall more wash out
	MachineM         float64 // working width of what runs in the alleys; 0 for none
	Water            Weight  // that the rows carry water off
	Turns            Weight  // that there are few turns
	Alleys           Weight  // that the alleys fit the machine
}

// BeginWish is what a sweep begins with: every fall allowed, and all three matter alike. The
// contractor sets them; none is a published figure.
func BeginWish() Wish { return Wish{MostFallPercent: 100, Water: 2, Turns: 2, Alleys: 2} }

// Check refuses a wish that nothing can meet, by its field.
func (w Wish) Check() error {
	switch {
	case !(w.LeastFallPercent >= 0 && w.LeastFallPercent <= 100):
		return fault.Refuse("least_fall", "%s %% is no fall, enter 0 to 100", unit.Plain(w.LeastFallPercent))
	case !(w.MostFallPercent >= w.LeastFallPercent && w.MostFallPercent <= 100):
		return fault.Refuse("most_fall", "%s %% is below the least, or no fall: enter %s to 100", unit.Plain(w.MostFallPercent), unit.Plain(w.LeastFallPercent))
	case w.MachineM != 0 && !(w.MachineM >= 0.5 && w.MachineM <= 200):
		return fault.Refuse("width_m", "%s m is no working width, enter 0.5 to 200, or leave it empty", unit.Plain(w.MachineM))
	}
	for _, weight := range []struct {
		field string
		value Weight
	}{{"water", w.Water}, {"turns", w.Turns}, {"alleys", w.Alleys}} {
		if weight.value < 0 || weight.value > MostWeight {
			return fault.Refuse(weight.field, "%d is no weight, choose 0 to %d", int(weight.value), int(MostWeight))
		}
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
	Score       float64 // 0 to 100: the mean of the marks by their weights; 0 where nothing is weighed
}

// PartPercent is the share of the alley ground in part passes or overlaps; 0 without a machine.
func (b Bearing) PartPercent() float64 {
	if b.PartFraction == nil {
		return 0
	}
	return 100 * *b.PartFraction
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
	headings, err := rows.Sweep(in, 1, rows.SweepWith{Fall: survey.Fall, AlleyMachineM: w.MachineM})
	if err != nil {
		return Bearings{}, err
	}
	b := Bearings{Layout: l, Wish: w, Fall: survey.Fall}
	for _, h := range headings {
		b.All = append(b.All, w.look(h))
	}
	b.score()
	b.pick()
	return b, nil
}

// look reads off a bearing's fall and whether it is allowed.
func (w Wish) look(h rows.Heading) Bearing {
	b := Bearing{Heading: h, AlongDeg: h.BearingDeg, Allowed: h.RowM > 0}
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

// pick takes the bearings that score most, of equals the one with more row metres, leaving out the neighbours of one taken already.
func (b *Bearings) pick() {
	order := append([]Bearing(nil), b.All...)
	slices.SortStableFunc(order, func(x, y Bearing) int {
		return cmp.Or(cmp.Compare(y.Score, x.Score), cmp.Compare(y.RowM, x.RowM))
	})
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
