package rows

import (
	"math"

	"rowtally/internal/ground"
)

// numberFromRight turns the numbers of rows and belts round.
func (p *Plan) numberFromRight() {
	for i := range p.Rows {
		row := &p.Rows[i]
		row.Number, row.Belt = p.RowCount+1-row.Number, p.BeltCount+1-row.Belt
	}
}

// pass is one belt as it is driven: its two ends along the bearing, in the middle of its rows.
type pass struct {
	belt     int
	from, to ground.Point
	lengthM  float64
}

// drives lists the passes from left to right.
func (p *Plan) drives() (passes []pass) {
	for start := 0; start < len(p.Rows); {
		end, low, high, right := start, math.Inf(1), math.Inf(-1), 0.0
		for ; end < len(p.Rows) && p.Rows[end].Belt == p.Rows[start].Belt; end++ {
			row := p.Rows[end]
			low, high = min(low, row.Spans[0].FromM), max(high, row.Spans[len(row.Spans)-1].ToM)
			right += row.OffsetM
		}
		right /= float64(end - start)
		passes = append(passes, pass{p.Rows[start].Belt, p.Place(low, right), p.Place(high, right), p.groundM(stretch{low, high}, right)})
		start = end
	}
	return passes
}

// nonWorkingM estimates what is driven with the seeder lifted: over the gaps within each
// pass, and straight from where one pass ends to where the next begins, belts driven there
// and back in turn, neighbour after neighbour. The loop that a turn needs, the way to the
// paddock and round the headland, and the detour round what lies in a gap are not in it.
func (p *Plan) nonWorkingM() float64 {
	passes := p.drives()
	sum := -p.DrivenM
	for i, one := range passes {
		sum += one.lengthM
		if i == 0 {
			continue
		}
		last := passes[i-1]
		if min(last.belt, one.belt)%2 == 1 { // the earlier of the two runs along the bearing
			sum += p.straightM(last.to, one.to)
		} else {
			sum += p.straightM(last.from, one.from)
		}
	}
	return max(0, sum)
}

// straightM is the straight length on the ground between two points of the plane.
func (p *Plan) straightM(from, to ground.Point) float64 {
	if p.Frame == nil {
		return from.To(to)
	}
	return p.Frame.GroundM(from, to)
}
