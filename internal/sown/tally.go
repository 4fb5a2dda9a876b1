package sown

import (
	"math"
	"time"

	"rowtally/internal/rows"
)

// rowTally gathers where one planned row was sown.
type rowTally struct {
	planned, sown  extents
	plannedM       float64 // on the ground
	groundPerPlane float64
}

func tallyOf(row rows.Row) rowTally {
	t := rowTally{groundPerPlane: 1}
	for _, span := range row.Spans {
		t.planned = append(t.planned, Extent{span.FromM, span.ToM})
		t.plannedM += span.LengthM
	}
	if plane := t.planned.lengthM(); plane > 0 {
		t.groundPerPlane = t.plannedM / plane
	}
	t.planned = t.planned.union()
	return t
}

// tally adds one pass to its rows, or to what lies on none.
func (m *matcher) tally(t track, p pass) {
	s, whole := &m.sums, p.extent(t.machine.BehindM)
	if p.berth.count == 0 {
		m.tallyUnplanned(t, p, whole)
		return
	}
	sownM, hull := 0.0, Extent{math.Inf(1), math.Inf(-1)}
	for _, row := range p.berth.rows {
		if row < 0 {
			continue
		}
		parts := m.tallyRow(&m.rows[row], t, p, whole)
		sownM += parts.lengthM() * m.rows[row].groundPerPlane
		for _, part := range parts {
			hull = Extent{min(hull.FromM, part.FromM), max(hull.ToM, part.ToM)}
		}
	}
	if sownM == 0 {
		return
	}
	listed := m.listed(t, p, hull)
	count := float64(p.berth.count)
	s.record.UnplannedM += sownM / count * float64(t.machine.Rows-p.berth.count)
	s.record.Passes++
	s.record.TrackM += listed.TrackM
	s.record.TrackRowM += listed.TrackM * count
	s.dopplerM += p.dopplerM(hull, t.machine.BehindM)
	s.asideM = append(s.asideM, p.berth.asideM)
	s.varianceM2 += count * count * p.varianceM2(t.scatterM, m.limits.holdM)
	s.endRowsSquared += 2 * count * count
	s.record.PassList = append(s.record.PassList, listed)
}

// tallyRow adds a pass to one of the rows below it and gives the parts that count.
func (m *matcher) tallyRow(row *rowTally, t track, p pass, whole Extent) extents {
	parts := extents{whole}
	if !t.flagged {
		parts = p.planned(whole, row.planned)
	}
	row.sown = append(row.sown, parts...)
	m.sums.record.PastEndsM += (whole.lengthM() - parts.lengthM()) * row.groundPerPlane
	m.sums.record.BridgedM += parts.within(p.bridges.union()).lengthM() * row.groundPerPlane
	return parts
}

// tallyUnplanned adds a pass that lay on no planned row. Without the implement's state it
// may have been a drive to anywhere: only what lies beside the rows is told, and no pass.
func (m *matcher) tallyUnplanned(t track, p pass, whole Extent) {
	sown, lengthM := whole, whole.lengthM()/p.line.cos // its own way: it need not be parallel to the rows
	if p.curvedM > 0 {
		lengthM = p.curvedM
		m.sums.record.CurvedM += lengthM * float64(t.machine.Rows)
	}
	if t.flagged {
		m.sums.record.PassList = append(m.sums.record.PassList, m.listed(t, p, whole))
	} else {
		sown = whole.and(m.bounds.along)
		lengthM = sown.lengthM() / p.line.cos
	}
	m.sums.record.UnplannedM += lengthM * float64(t.machine.Rows)
}

// planned is the part of a pass without the implement's state that counts: the machine
// lifts at the planned ends and turns. A track that is nothing but one straight drive was
// drawn or cut so, and counts to its ends.
func (p pass) planned(whole Extent, planned extents) extents {
	parts := extents{whole}.within(planned)
	if len(parts) > 0 && p.opens == trackEnd && p.closes == trackEnd {
		parts[0].FromM, parts[len(parts)-1].ToM = whole.FromM, whole.ToM
	}
	return parts
}

// varianceM2 is the variance of the length of a pass: the receiver's scatter at both
// ends, the way between two fixes in which the state changed or, where a turn has to tell
// the end, the way in which a turn shows; and dropouts, sown or not.
func (p pass) varianceM2(scatterM, holdM float64) float64 {
	bridgedM := p.bridges.lengthM()
	sum := bridgedM * bridgedM / 12
	for _, how := range []end{p.opens, p.closes} {
		sum += scatterM * scatterM
		switch how {
		case flagEnd:
			sum += p.flagStepM * p.flagStepM / 12
		case turnEnd:
			sum += holdM * holdM / 12
		}
	}
	return sum
}

// listed is the pass for the record, with what of it was sown.
func (m *matcher) listed(t track, p pass, sown Extent) Pass {
	out := Pass{Log: t.number, Rows: []int{}, Backward: p.backward(), FromM: sown.FromM, ToM: sown.ToM,
		AsideM: p.berth.asideM, TrackM: p.trackM(sown, t.machine.BehindM), BridgedM: p.bridges.lengthM()}
	for _, row := range p.berth.rows {
		if row >= 0 {
			out.Rows = append(out.Rows, m.plan.Rows[row].Number)
		}
	}
	out.Start, out.End = moment(t.start, p.first().atS), moment(t.start, p.last().atS)
	if speed := p.speedMS(); !math.IsNaN(speed) {
		out.SpeedKmh = speed / msPerKmh
	}
	return out
}

// moment is the seconds after a start; zero where either is not known.
func moment(start time.Time, seconds float64) time.Time {
	if start.IsZero() || math.IsNaN(seconds) {
		return time.Time{}
	}
	return start.Add(time.Duration(seconds * float64(time.Second)))
}
