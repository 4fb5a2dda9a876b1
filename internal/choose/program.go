package choose

// program is a linear program over the ways in which lots can supply needs. Each need is
// met by shares of its live seed that make 1 with what stays short; each lot gives shares
// of what is free of it that make 1 with what is left. The aims come one after another: a
// later one never spoils an earlier one.
type program struct {
	needs []float64 // live seeds wanted, by need; above 0
	lots  int
	ways  []way
}

// way is one lot supplying one need.
type way struct {
	need, lot int
	ofLot     float64 // share of what is free of the lot that the whole need would take; above 0
	most      float64 // largest share of the need from this lot, above 0 up to 1
	newness   float64 // cost of the second aim, for the whole need; 0 or more
	cost      float64 // of the third aim: money for the whole need; 0 or more
}

// aims are what is made small, in this order: live seeds short, newness where the oldest
// lots are to go first, money.
const aims = 3

// tolerance is how near to nothing a scaled figure is taken as nothing.
const tolerance = 1e-9

// aim is the costs of one way, scaled so that the largest of each aim is 1.
type aim [aims]float64

// scales are what the costs of each aim are divided by.
func (p program) scales() (s aim) {
	for _, live := range p.needs {
		s[0] = max(s[0], live)
	}
	for _, w := range p.ways {
		s[1], s[2] = max(s[1], w.newness), max(s[2], w.cost)
	}
	for i := range s {
		if s[i] == 0 {
			s[i] = 1
		}
	}
	return s
}

// solution is the shares that solve a program.
type solution struct {
	share  []float64 // of the need, by way
	short  []float64 // share of the need, 0..1
	prices [][aims]float64
	steps  int
}

// columns of the simplex tableau: ways, then what each need lacks, then what is left of
// each lot. Rows: needs, then lots.
func (p program) rows() int { return len(p.needs) + p.lots }

func (p program) columns() int { return len(p.ways) + p.rows() }

// entry is a figure of a sparse column.
type entry struct {
	row   int
	value float64
}

func (p program) column(j int) []entry {
	if j < len(p.ways) {
		w := p.ways[j]
		return []entry{{w.need, 1}, {len(p.needs) + w.lot, w.ofLot}}
	}
	return []entry{{j - len(p.ways), 1}}
}

func (p program) cost(j int, s aim) (c aim) {
	switch k := j - len(p.ways); {
	case k < 0:
		return aim{0, p.ways[j].newness / s[1], p.ways[j].cost / s[2]}
	case k < len(p.needs):
		return aim{p.needs[k] / s[0], 0, 0}
	}
	return aim{}
}

// most is the upper bound of a column; what is left and what is short are bounded by
// their rows.
func (p program) most(j int) float64 {
	if j < len(p.ways) {
		return p.ways[j].most
	}
	return 2 // never reached: no row sums to more than 1
}

// priceUnknown prices lots without a cost as dear as the dearest live seed, so that a cost
// not entered never makes a lot the cheapest.
func (p program) priceUnknown() {
	dearest := 0.0
	for _, w := range p.ways {
		dearest = max(dearest, w.cost/p.needs[w.need])
	}
	for j := range p.ways {
		if p.ways[j].cost == 0 {
			p.ways[j].cost = dearest * p.needs[p.ways[j].need]
		}
	}
}
