package rows

import (
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

// mostPasses is how many headland passes are laid, and mostRound how many corners the ground
// may have for them: each piece of a pass is held against the edges round it.
const (
	mostPasses = 20
	mostRound  = 10_000
)

// HeadlandRow is one row sown round the headland: a row of a headland pass. It keeps the
// clearance of every edge of the outside plus InM, and the margins of holes and no-go areas.
type HeadlandRow struct {
	Pass    int     // 1, 2, 3… from the outside in
	InM     float64 // how much farther in than the edge of what may be sown
	LengthM float64 // on the ground
	Runs    []Run   // unbroken, in no order
}

// Run is an unbroken stretch of a headland row: straight pieces and arcs, end to end.
type Run struct {
	LengthM float64 // on the ground
	Path    []ground.Point
}

// CountsHeadland tells whether the plan's row metres have headland passes in them.
func (p Plan) CountsHeadland() bool { return p.in.CountHeadlands && len(p.Headland) > 0 }

// passRoomM is how far the headland passes move the rows in: a pitch each, so that the
// alley beside the last of them is as wide as any.
func (in Input) passRoomM() float64 { return float64(in.HeadlandPasses) * in.pitchM() }

// layPasses lays the headland passes: belts like any other, round each outside. The rows of
// pass k stand (k − 1)·pitch + gap·j, j = 0, 1, …, farther in than the edge of what may be
// sown without passes. A row is every point that keeps exactly that clearance from some edge
// of an outside and no less from any other, and lies clear of holes and no-go areas: straight
// beside the edges, and in arcs round corners that stand into the paddock and round the ends
// of edges whose headland is wider than their neighbour's. Lengths of both are exact.
func (s scene) layPasses(in Input) ([]HeadlandRow, error) {
	walls := s.walls()
	if len(walls) > mostRound {
		return nil, fault.Refuse("headland_passes", "the ground has %d corners, headland passes are laid round up to %d; thin the boundary out", len(walls), mostRound)
	}
	if s.leastHeadlandM() <= 0 {
		return nil, fault.Refuse("headland_passes", "a headland pass needs a headland on every side, and one here is 0 m: enter how far the pass keeps from the fence")
	}
	var laid []HeadlandRow
	for pass := range in.HeadlandPasses {
		for row := range in.RowsPerBelt {
			inM := float64(pass)*in.pitchM() + float64(row)*in.gap()
			laid = append(laid, s.headlandRow(in, walls, pass+1, inM))
		}
	}
	return laid, nil
}

// headlandRow lays one row round the headland. Runs shorter than the least row are left out.
func (s scene) headlandRow(in Input, walls []wall, pass int, inM float64) HeadlandRow {
	for i := range walls {
		walls[i].keepM = walls[i].clearM
		if walls[i].outside {
			walls[i].keepM += inM
		}
	}
	near := nearOf(walls)
	var pieces []piece
	for _, c := range s.curves(inM) {
		pieces = append(pieces, s.kept(c, near)...)
	}
	row := HeadlandRow{Pass: pass, InM: inM}
	for _, run := range s.joined(pieces) {
		if run.LengthM >= in.LeastRowM {
			row.Runs = append(row.Runs, run)
			row.LengthM += run.LengthM
		}
	}
	return row
}

// piece is what is kept of a curve, from one share of it to another.
type piece struct {
	curve
	from, to float64
}

// kept splits a curve wherever it comes to a clearance, and keeps what lies clear.
func (s scene) kept(c curve, near nearby) (pieces []piece) {
	walls := near.to(c)
	shares := c.parted(walls)
	for i := 1; i < len(shares); i++ {
		from, to := shares[i-1], shares[i]
		if !s.clear(c.at((from+to)/2), walls) {
			continue
		}
		if last := len(pieces) - 1; last >= 0 && pieces[last].to == from {
			pieces[last].to = to
		} else {
			pieces = append(pieces, piece{c, from, to})
		}
	}
	return pieces
}

// clear tells whether a point keeps every clearance and lies on ground that may be sown.
func (s scene) clear(p ground.Point, walls []wall) bool {
	for _, w := range walls {
		if w.offM(p) < w.keepM-10*slack {
			return false
		}
	}
	inside := false
	for _, polygon := range s.paddock {
		inside = inside != polygon.Holds(p)
	}
	for _, obstacle := range s.obstacles {
		for _, polygon := range obstacle.polygons {
			inside = inside && !polygon.Holds(p)
		}
	}
	return inside
}

// touchM is how near the end of a piece lies to the beginning of the next.
const touchM = 1e-5

// chain is pieces with the one that each leads to.
type chain struct {
	pieces  []piece
	follows []int // -1 where the row ends
	led     []bool
	taken   []bool
}

func chainOf(pieces []piece) chain {
	n := len(pieces)
	c := chain{pieces, make([]int, n), make([]bool, n), make([]bool, n)}
	begins := map[[2]int64]int{}
	for i, p := range pieces {
		begins[cellOf(p.at(p.from))] = i
	}
	for i, p := range pieces {
		if c.follows[i] = beginning(begins, cellOf(p.at(p.to)), i); c.follows[i] >= 0 {
			c.led[c.follows[i]] = true
		}
	}
	return c
}

func cellOf(p ground.Point) [2]int64 {
	return [2]int64{int64(math.Floor(p.E / touchM)), int64(math.Floor(p.N / touchM))}
}

// beginning finds the piece that begins in a cell or beside it, other than the one given.
func beginning(begins map[[2]int64]int, cell [2]int64, other int) int {
	for e := int64(-1); e <= 1; e++ {
		for n := int64(-1); n <= 1; n++ {
			if i, found := begins[[2]int64{cell[0] + e, cell[1] + n}]; found && i != other {
				return i
			}
		}
	}
	return -1
}

// joined puts pieces end to end into runs: those with a beginning first, then the rings.
func (s scene) joined(pieces []piece) (runs []Run) {
	c := chainOf(pieces)
	for _, rings := range []bool{false, true} {
		for i := range pieces {
			if !c.taken[i] && (rings || !c.led[i]) {
				runs = append(runs, s.run(c, i))
			}
		}
	}
	return runs
}

// run follows the chain from a piece to its end.
func (s scene) run(c chain, i int) (r Run) {
	for ; i >= 0 && !c.taken[i]; i = c.follows[i] {
		c.taken[i] = true
		r.LengthM += s.lengthM(c.pieces[i])
		r.Path = append(r.Path, c.pieces[i].drawn()...)
	}
	return r
}

// lengthM is a piece's length on the ground: an arc's is brought there as its chord's is.
func (s scene) lengthM(p piece) float64 {
	length := (p.to - p.from) * p.curve.lengthM()
	from, to := p.at(p.from), p.at(p.to)
	chord := from.To(to)
	if s.frame == nil || chord == 0 {
		return length
	}
	return length * s.frame.GroundM(from, to) / chord
}
