package choose

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
	"pgregory.net/rapid"
)

// reached is what a solution comes to, aim by aim, and whether it keeps within what there is.
func (p program) reached(t interface{ Fatalf(string, ...any) }, s solution) (total [aims]float64) {
	met, taken := make([]float64, len(p.needs)), make([]float64, p.lots)
	for j, w := range p.ways {
		x := s.share[j]
		if !(x >= -1e-9 && x <= w.most+1e-9) {
			t.Fatalf("way %+v is used to %v", w, x)
		}
		met[w.need] += x
		taken[w.lot] += x * w.ofLot
		total[1] += x * w.newness
		total[2] += x * w.cost
	}
	for k, live := range p.needs {
		if !(math.Abs(met[k]+s.short[k]-1) <= 1e-7) {
			t.Fatalf("need %d is met to %v and short of %v", k, met[k], s.short[k])
		}
		total[0] += live * s.short[k]
	}
	for i, x := range taken {
		if x > 1+1e-7 {
			t.Fatalf("lot %d gives %v of what is free", i, x)
		}
	}
	return total
}

func solved(t interface{ Fatalf(string, ...any) }, p program) (solution, [aims]float64) {
	s, err := p.solve()
	if err != nil {
		t.Fatalf("%v", err)
	}
	return s, p.reached(t, s)
}

// Where live seeds are whole and every lot worth the same to every need, the best
// allotment is whole too, so that trying every whole one finds it.
func TestSmallProgramsAreSolvedAsByTryingEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		needs := rapid.SliceOfN(rapid.IntRange(1, 4), 1, 3).Draw(t, "needs")
		lots := rapid.SliceOfN(rapid.IntRange(1, 4), 1, 3).Draw(t, "lots")
		cost := make([][]int, len(needs))
		most := make([][]int, len(needs))
		for k := range needs {
			cost[k] = rapid.SliceOfN(rapid.IntRange(0, 9), len(lots), len(lots)).Draw(t, "costs")
			most[k] = rapid.SliceOfN(rapid.IntRange(0, 4), len(lots), len(lots)).Draw(t, "most")
		}
		p := program{lots: len(lots)}
		for k, need := range needs {
			p.needs = append(p.needs, float64(need))
			for i, free := range lots {
				if most[k][i] > 0 {
					p.ways = append(p.ways, way{need: k, lot: i, ofLot: float64(need) / float64(free),
						most: min(1, float64(most[k][i])/float64(need)), cost: float64(need * cost[k][i])})
				}
			}
		}
		_, got := solved(t, p)
		short, money := tryEverything(needs, lots, cost, most)
		if math.Abs(got[0]-float64(short)) > 1e-6 || math.Abs(got[2]-float64(money)) > 1e-6 {
			t.Fatalf("short of %v at %v, trying everything finds %d at %d", got[0], got[2], short, money)
		}
	})
}

// tryEverything goes through every whole allotment, cell by cell.
func tryEverything(needs, lots []int, cost, most [][]int) (short, money int) {
	short, money = math.MaxInt, math.MaxInt
	left, free := append([]int{}, needs...), append([]int{}, lots...)
	var try func(cell, spent int)
	try = func(cell, spent int) {
		if cell == len(needs)*len(lots) {
			lacking := 0
			for _, n := range left {
				lacking += n
			}
			if lacking < short || lacking == short && spent < money {
				short, money = lacking, spent
			}
			return
		}
		k, i := cell/len(lots), cell%len(lots)
		for x := 0; x <= min(left[k], free[i], most[k][i]); x++ {
			left[k], free[i] = left[k]-x, free[i]-x
			try(cell+1, spent+x*cost[k][i])
			left[k], free[i] = left[k]+x, free[i]+x
		}
	}
	try(0, 0)
	return short, money
}

// anyProgram is an invented season: lots whose worth differs from need to need, as it
// does when they are sown on different days.
func anyProgram(needs, lots int, seed uint64) program {
	chance := rand.New(rand.NewPCG(seed, 3))
	p := program{lots: lots}
	free, price := make([]float64, lots), make([]float64, lots)
	plenty := 1.0
	if seed%2 == 1 {
		plenty = 0.2 // a season in which seed is scarce
	}
	for i := range free {
		free[i], price[i] = plenty*(5+60*chance.Float64()), 20+60*chance.Float64()
	}
	for k := range needs {
		live := 1e5 + 1e6*chance.Float64()
		p.needs = append(p.needs, live)
		share := []float64{1, 0.6, 0.35}[chance.IntN(3)]
		for i := range lots {
			if chance.Float64() < 0.3 {
				continue // ruled out by the job's limits
			}
			kg := live / (26_000 * (0.3 + chance.Float64()))
			p.ways = append(p.ways, way{need: k, lot: i, ofLot: kg / free[i], most: share, cost: kg * price[i]})
		}
	}
	return p
}

// A peer with a method of its own, the simplex of gonum, comes to the same figures.
func TestTheProgramIsSolvedAsByAPeer(t *testing.T) {
	const heavy = 1e4 // a live seed short against the dearest one
	for seed := range uint64(60) {
		p := anyProgram(1+int(seed%5), 1+int(seed%7), seed)
		_, got := solved(t, p)
		scale := p.scales()
		want, err := peer(p, heavy)
		if err != nil {
			t.Fatalf("season %d: the peer says %v", seed, err)
		}
		if mine := heavy*got[0]/scale[0] + got[2]/scale[2]; !(math.Abs(mine-want) <= 1e-6*(1+want)) {
			t.Errorf("season %d comes to %v, by the peer to %v", seed, mine, want)
		}
	}
}

// peer minimises heavy x short + cost, both scaled, with every bound a row of its own.
func peer(p program, heavy float64) (float64, error) {
	m, n, scale := p.rows(), p.columns(), p.scales()
	w := len(p.ways)
	a := mat.NewDense(m+w, n+w, nil)
	b, c := make([]float64, m+w), make([]float64, n+w)
	for j := range n {
		for _, e := range p.column(j) {
			a.Set(e.row, j, e.value)
		}
		cost := p.cost(j, scale)
		c[j] = heavy*cost[0] + cost[2]
	}
	for i := range m {
		b[i] = 1
	}
	for j, way := range p.ways {
		a.Set(m+j, j, 1)
		a.Set(m+j, n+j, 1)
		b[m+j] = way.most
	}
	value, _, err := lp.Simplex(c, a, b, 1e-10, nil)
	return value, err
}

// The prices that the solution comes with prove it: by weak duality no allotment can come
// to less than what they say, whatever solved it.
func TestLargeProgramsReachTheirOwnDualBound(t *testing.T) {
	const heavy = 1e5
	for seed := range uint64(4) {
		p := anyProgram(60, 120, seed)
		s, got := solved(t, p)
		scale := p.scales()
		mine, bound := heavy*got[0]/scale[0]+got[2]/scale[2], p.bound(t, s, heavy)
		if !(mine >= bound-1e-6*(1+mine) && mine <= bound+1e-6*(1+mine)) {
			t.Errorf("season %d comes to %v, its bound is %v", seed, mine, bound)
		}
		if scarce := seed%2 == 1; scarce != (got[0] > 1) {
			t.Errorf("season %d is short of %.0f live seeds", seed, got[0])
		}
	}
}

// bound is the least that the prices allow: sum of the rows at their prices, and of every
// column at whichever of its bounds is cheaper.
func (p program) bound(t *testing.T, s solution, heavy float64) float64 {
	t.Helper()
	total, scale := 0.0, p.scales()
	price := func(row int) float64 { return heavy*s.prices[row][0] + s.prices[row][2] }
	for row := range p.rows() {
		total += price(row)
	}
	for j := range p.columns() {
		c := p.cost(j, scale)
		reduced := heavy*c[0] + c[2]
		for _, e := range p.column(j) {
			reduced -= price(e.row) * e.value
		}
		most := 1.0
		if j < len(p.ways) {
			most = p.ways[j].most
		}
		total += min(0, reduced) * most
	}
	return total
}

// BenchmarkSeason is the season's allotment at its largest: 60 jobs and 120 lots, all of
// one species.
func BenchmarkSeason(b *testing.B) {
	p := anyProgram(60, 120, 1)
	for b.Loop() {
		if _, err := p.solve(); err != nil {
			b.Fatal(err)
		}
	}
}
