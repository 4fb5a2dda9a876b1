package sown

import (
	"math"
	"slices"

	"rowtally/internal/ground"
	"rowtally/internal/rows"
)

// HeadlandSown is what became of one unbroken run of a headland row that the plan counts.
// Its extents are metres along its way, in the plan's plane; CoveredM + MissedM = PlannedM.
type HeadlandSown struct {
	Pass     int      `json:"pass"` // 1, 2, 3… from the outside in
	Row      int      `json:"row"`  // of the pass, from the outside in
	PlannedM float64  `json:"planned_m"`
	CoveredM float64  `json:"covered_m"`
	MissedM  float64  `json:"missed_m"`
	DoubledM float64  `json:"doubled_m"`
	Sown     []Extent `json:"sown"`
	Missed   []Extent `json:"missed"`
	Doubled  []Extent `json:"doubled"`

	SownSides, MissedSides [][2]ground.Point `json:"-"` // straight pieces of the plan's plane, to draw it by
}

// round matches one log to the headland passes.
type round struct {
	track  track
	limits limits
	laps   []*lap
	sums   *sums
}

// leastRoundM is how long a part of a log without the implement's state must follow the
// headland to count: turns at the ends of rows follow it too. Our choice.
const leastRoundM = 60

// headlands takes what follows the headland out of a log's stretches, and gives the rest.
func (m *matcher) headlands(t track, all []stretch) (rest []stretch) {
	if len(m.laps) == 0 {
		return all
	}
	r := round{t, m.limits, m.laps, &m.sums}
	widestM := 0.0
	for row := range t.machine.Rows {
		widestM = max(widestM, math.Abs(t.machine.rightM(row)))
	}
	for _, l := range r.laps {
		l.spread(widestM + t.guide.strayM)
	}
	for _, s := range all {
		taken := make([]bool, len(s.points))
		for _, l := range r.laps {
			for _, f := range l.followings(s, t.guide) {
				r.sow(l, f, taken)
			}
		}
		rest = append(rest, s.without(taken)...)
	}
	return rest
}

// sow counts a following if the machine really was on the lap.
func (r round) sow(l *lap, f following, taken []bool) {
	lengthM := math.Abs(f.end - f.begin)
	least := max(r.limits.leastPassM, headingBaseM)
	if !r.track.flagged {
		least = max(least, leastRoundM)
	}
	if lengthM < least || lengthM < 0.7*r.track.guide.wayM(f.stretch.points, f.from, f.to) {
		return
	}
	seat, first := r.seat(l, f)
	if seat.count == 0 || r.liesOnRows(f, seat) {
		return
	}
	for i := f.from; i <= f.to; i++ {
		taken[i] = true
	}
	behindM := f.sense * r.track.machine.BehindM
	laid := l.lay(f.begin-behindM, f.end-behindM)
	l.tally.sown = append(l.tally.sown, laid...)
	if l.bridged(f, r.limits.bridgeM) {
		gap := l.lay(l.last.end-behindM, l.last.end+l.onward(l.last.end, f.begin)-behindM)
		l.tally.sown = append(l.tally.sown, gap...)
		r.sums.record.BridgedM += gap.lengthM() * l.tally.groundPerPlane
		r.sums.varianceM2 += gap.lengthM() * gap.lengthM() / 12
	}
	l.last = &f
	if first {
		r.list(l, f, seat)
	}
}

// bridged tells whether only a dropout parts a following from the one before it.
func (l *lap) bridged(f following, bridgeM float64) bool {
	before := l.last
	if before == nil || before.stretch.closes != gapEnd || f.stretch.opens != gapEnd || f.stretch.run != before.stretch.run+1 ||
		f.from > 0 || before.to < len(before.stretch.points)-1 || f.sense != before.sense {
		return false
	}
	gapM := f.sense * l.onward(before.end, f.begin)
	return gapM > 0 && gapM <= bridgeM
}

// seat is the likeliest place of the machine on the rows of the headland, none where the lap
// is not among them; first tells whether it is the first that is.
func (r round) seat(l *lap, f following) (seat berth, first bool) {
	ins := []float64{}
	for _, o := range r.laps {
		ins = append(ins, l.inM-o.inM) // to the right: outward
	}
	slices.Sort(ins)
	ins = slices.Compact(ins)
	across := make([]rows.Row, len(ins))
	for i, in := range ins {
		across[i].OffsetM = in
	}
	reachM := max(r.limits.crossTrackM, scatterReach*r.track.slowM)
	for _, b := range lanesFor(across, r.track.machine, reachM, r.track.scatterM).berths(f.rightM, f.sense < 0, reachM) {
		if b.count > seat.count || b.count == seat.count && math.Abs(b.asideM) < math.Abs(seat.asideM) {
			seat = b
		}
	}
	self := slices.Index(ins, 0)
	if !slices.Contains(seat.rows, self) {
		return berth{}, false
	}
	return seat, slices.IndexFunc(seat.rows, func(row int) bool { return row >= 0 }) == slices.Index(seat.rows, self)
}

// liesOnRows tells whether a following lies nearer to planned rows than to the headland.
func (r round) liesOnRows(f following, seat berth) bool {
	fit, straight := r.track.guide.straight(f.stretch.points[f.from : f.to+1])
	if !straight {
		return false
	}
	first, last := f.stretch.points[f.from], f.stretch.points[f.to]
	across := fit.acrossAt((first.along + last.along) / 2)
	for _, b := range r.track.lanes.berths(across, fit.sense < 0, math.Abs(seat.asideM)) {
		if b.count >= seat.count && math.Abs(b.asideM) < math.Abs(seat.asideM) {
			return true
		}
	}
	return false
}

// list adds a drive along the headland to the record.
func (r round) list(l *lap, f following, seat berth) {
	p := pass{points: f.stretch.points[f.from : f.to+1]}
	trackM := 0.0
	for i := 1; i < len(p.points); i++ {
		trackM += p.points[i-1].to(p.points[i])
	}
	count := float64(seat.count)
	record := &r.sums.record
	record.Passes++
	record.TrackM += trackM
	record.TrackRowM += trackM * count
	r.sums.dopplerM += p.doppler()
	r.sums.varianceM2 += count * count * pass{opens: f.stretch.opens, closes: f.stretch.closes, flagStepM: f.stretch.flagStepM}.varianceM2(r.track.scatterM, r.limits.holdM)
	record.PassList = append(record.PassList, Pass{Log: r.track.number, Headland: l.pass, Rows: []int{}, Backward: f.sense < 0, AsideM: seat.asideM,
		FromM: min(f.begin, f.end), ToM: max(f.begin, f.end), TrackM: trackM,
		Start: moment(r.track.start, p.first().atS), End: moment(r.track.start, p.last().atS)})
}

// doppler is the way of a pass by logged speed × time; NaN where either is missing.
func (p pass) doppler() (sum float64) {
	for i := 1; i < len(p.points); i++ {
		sum += meanSpeedMS(p.points[i-1], p.points[i]) * (p.points[i].atS - p.points[i-1].atS)
	}
	return sum
}

// without are the pieces of a stretch that are not taken.
func (s stretch) without(taken []bool) (rest []stretch) {
	for from := 0; from < len(taken); from++ {
		if taken[from] {
			continue
		}
		to := from
		for to+1 < len(taken) && !taken[to+1] {
			to++
		}
		piece := s
		piece.points = s.points[from : to+1]
		if from > 0 {
			piece.opens = turnEnd
		}
		if to < len(taken)-1 {
			piece.closes = turnEnd
		}
		if len(piece.points) > 1 {
			rest = append(rest, piece)
		}
		from = to
	}
	return rest
}

// sownLap is the lap with what was sown of it.
func (l *lap) sownLap() HeadlandSown {
	sums := l.tally.sums()
	return HeadlandSown{Pass: l.pass, Row: l.row, PlannedM: sums.PlannedM, CoveredM: sums.CoveredM, MissedM: sums.MissedM, DoubledM: sums.DoubledM,
		Sown: filled(sums.Sown), Missed: filled(sums.Missed), Doubled: filled(sums.Doubled),
		SownSides: l.sides(sums.Sown), MissedSides: l.sides(sums.Missed)}
}

// filled gives an empty list where there is none, as JSON readers expect.
func filled(list []Extent) []Extent {
	if list == nil {
		return []Extent{}
	}
	return list
}
