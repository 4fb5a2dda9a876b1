package rows

import (
	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

// work is a scene with the room that layouts of it are worked out in, one after the other:
// what one took serves the next, so that a plan holds until the next one is laid.
type work struct {
	scene
	axes   axes
	widthM float64 // of the paddock, across the bearing
	lines  []line

	offsets []float64   // of what is clipped
	on      [][]stretch // what may be sown, by offset

	sides   []side
	margins []margin
	insides []inside
	crossed perRow[float64]
	taken   perRow[stretch]
	kept    []stretch
	laid    []Row
	spans   []Span
	alleys  alleyPasses
}

// face turns to the input's bearing and lists the row lines.
func (w *work) face(in Input) (err error) {
	w.axes, w.widthM = w.facing(in.BearingDeg)
	w.lines, err = in.lines(w.lines[:0], w.widthM)
	return err
}

// rows lays the rows with all but what a plan takes to drive.
func (w *work) rows(in Input) (Plan, error) {
	if err := w.face(in); err != nil {
		return Plan{}, err
	}
	return w.clipped(in, nil)
}

// clipped clips the row lines, and with them the edges of passes, and lays the rows.
func (w *work) clipped(in Input, edges []line) (Plan, error) {
	w.place(w.lines, edges)
	if err := w.clip(in); err != nil {
		return Plan{}, fault.Under(in.boundaryField(), err)
	}
	p := Plan{Frame: w.frame, BearingDeg: compass(in.BearingDeg), LeftM: w.axes.leftM, in: in, Rows: again(w.laid, len(w.lines))[:0]}
	w.spans = again(w.spans, len(w.kept))[:0]
	for _, line := range w.lines {
		w.spans = p.addRow(line, w.on[line.at], w.spans)
	}
	w.laid = p.Rows
	p.Headland = w.passes
	p.total(w.areaM2)
	return p, nil
}

// place puts row lines and edges of passes, each from the left, into one order. An edge that
// stands on a row is clipped with it.
func (w *work) place(rows, edges []line) {
	w.offsets = w.offsets[:0]
	put := func(one *line) {
		one.at = len(w.offsets)
		w.offsets = append(w.offsets, one.offsetM)
	}
	next := 0
	for i := range rows {
		for ; next < len(edges) && edges[next].offsetM < rows[i].offsetM-slack; next++ {
			put(&edges[next])
		}
		put(&rows[i])
		for ; next < len(edges) && edges[next].offsetM <= rows[i].offsetM+slack; next++ {
			edges[next].at = rows[i].at
		}
	}
	for ; next < len(edges); next++ {
		put(&edges[next])
	}
}

// clip works out what may be sown along each offset.
func (w *work) clip(in Input) error {
	w.turn(in)
	if err := crossings(&w.crossed, onRows(w.sides, w.offsets), w.offsets); err != nil {
		return err
	}
	if err := enter(w.insides, w.offsets); err != nil {
		return err
	}
	if err := cuts(&w.taken, w.margins, w.insides, w.offsets); err != nil {
		return err
	}
	w.on, w.kept = again(w.on, len(w.offsets)), w.kept[:0]
	for row := range w.offsets {
		begun := len(w.kept)
		w.kept = left(w.kept, w.crossed.of(row), w.taken.of(row))
		w.on[row] = w.kept[begun:len(w.kept):len(w.kept)]
	}
	return nil
}

// turn turns the ground to the axes: the sides of the paddock's rings, every edge to keep
// clear of, and the sides of each no-go area.
func (w *work) turn(in Input) {
	w.sides, w.margins = w.sides[:0], w.margins[:0]
	ring := func(ring ground.Ring, clearance func(i int) float64, slackM float64) {
		begun := len(w.sides)
		w.sides = w.axes.ring(w.sides, ring)
		w.keep(w.sides[begun:], clearance, slackM)
	}
	every := func(m float64) func(int) float64 { return func(int) float64 { return m } }
	for k, polygon := range w.paddock {
		ring(polygon.Outer, func(i int) float64 { return w.headlands[k][i] + in.passRoomM() }, in.FenceSlackM)
		for _, hole := range polygon.Holes {
			ring(hole, every(in.margin()), 0)
		}
	}
	areas := 0
	for _, obstacle := range w.obstacles {
		for _, polygon := range obstacle.polygons {
			if areas == len(w.insides) {
				w.insides = append(w.insides, inside{})
			}
			area := &w.insides[areas]
			area.sides = w.axes.polygon(area.sides[:0], polygon)
			w.keep(area.sides, every(obstacle.marginM), 0)
			areas++
		}
		for _, line := range obstacle.lines {
			w.keep(w.axes.line(line), every(obstacle.marginM), 0)
		}
	}
}

// keep adds the sides that ask for a clearance to what is kept clear of; slackM is by how much
// a row along one may miss it.
func (w *work) keep(sides []side, clearance func(i int) float64, slackM float64) {
	for i, s := range sides {
		if clear := clearance(i) - slack; clear > 0 {
			w.margins = append(w.margins, margin{s, clear, slackM})
		}
	}
}

func (a axes) polygon(sides []side, p ground.Polygon) []side {
	for _, ring := range p.Rings() {
		sides = a.ring(sides, ring)
	}
	return sides
}

// ring adds the sides of a ring to a list.
func (a axes) ring(sides []side, ring ground.Ring) []side {
	at := a.spot(ring[0])
	for i := range ring {
		next := a.spot(ring[(i+1)%len(ring)])
		sides = append(sides, side{at, next})
		at = next
	}
	return sides
}

// line gives the sides of an open line; a line of one corner is a point.
func (a axes) line(line []ground.Point) []side {
	if len(line) == 1 {
		at := a.spot(line[0])
		return []side{{at, at}}
	}
	var sides []side
	for i := 1; i < len(line); i++ {
		sides = append(sides, side{a.spot(line[i-1]), a.spot(line[i])})
	}
	return sides
}
