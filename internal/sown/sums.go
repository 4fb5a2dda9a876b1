package sown

import (
	"fmt"
	"math"
	"slices"
)

// sumUp makes the record of what was gathered.
func (m *matcher) sumUp() Record {
	r := m.sums.record
	for i, row := range m.rows {
		sown := row.sums()
		sown.Row = m.plan.Rows[i].Number
		r.CoveredM += sown.CoveredM
		r.DoubledM += sown.DoubledM
		r.OverrunM += sown.OverrunM
		r.Rows = append(r.Rows, sown)
	}
	for _, row := range m.plan.Rows { // span by span, as the plan itself adds its row metres
		for _, span := range row.Spans {
			r.PlannedM += span.LengthM
		}
	}
	for _, l := range m.laps {
		sown := l.sownLap()
		r.PlannedM += sown.PlannedM
		r.CoveredM += sown.CoveredM
		r.DoubledM += sown.DoubledM
		r.Headland = append(r.Headland, sown)
	}
	r.MissedM = max(0, r.PlannedM-r.CoveredM)
	r.SownM = r.CoveredM + r.DoubledM + r.OverrunM
	r.SownBy = m.sownBy()
	r.ScatterM = median(m.sums.scattersM)
	r.UncertaintyM = m.uncertaintyM()
	if doppler := m.sums.dopplerM; r.Passes > 0 && !math.IsNaN(doppler) {
		r.DopplerM = &doppler
	}
	r.Notes = append(r.Notes, m.remarks(r)...)
	return r.listsFilled()
}

// coverageFactor makes about 95 % of a standard uncertainty.
const coverageFactor = 2

// uncertaintyM is that of the sown length. The slow part of a receiver's error moves a
// whole pass: it does not show beside the pass's own line, but from pass to pass.
func (m *matcher) uncertaintyM() float64 {
	s, slowM2 := &m.sums, 0.0
	middle := median(s.asideM)
	for _, aside := range s.asideM {
		slowM2 += (aside - middle) * (aside - middle) / float64(len(s.asideM))
	}
	return coverageFactor * math.Sqrt(s.varianceM2+s.endRowsSquared*slowM2)
}

// sums works out one row: every metre of it is covered or missed, and every metre sown is
// covered, doubled or overrun.
func (t rowTally) sums() RowSown {
	union := t.sown.union()
	coveredM := min(union.within(t.planned).lengthM()*t.groundPerPlane, t.plannedM)
	unionM := union.lengthM() * t.groundPerPlane
	return RowSown{
		PlannedM: t.plannedM,
		CoveredM: coveredM,
		MissedM:  t.plannedM - coveredM,
		DoubledM: max(0, t.sown.lengthM()*t.groundPerPlane-unionM),
		OverrunM: max(0, unionM-coveredM),
		Sown:     union,
		Missed:   t.planned.without(union),
		Doubled:  t.sown.repeated(),

		GroundPerPlane: t.groundPerPlane,
	}
}

func (m *matcher) sownBy() string {
	switch {
	case !m.sums.byFlag:
		return "place"
	case !m.sums.place:
		return "flag"
	}
	return "flag and place"
}

// remarks are what a person should look at before the figures are used.
func (m *matcher) remarks(r Record) []string {
	var notes []string
	add := func(format string, args ...any) { notes = append(notes, fmt.Sprintf(format, args...)) }
	if m.sums.place {
		add("no log column told when the implement was sowing: rows count as sown between their planned ends where the machine drove along them")
	}
	if m.sums.outOfWindow > 0 {
		add("%d passes that the log calls sowing ran slower than %.1f or faster than %.1f km/h", m.sums.outOfWindow, m.limits.speedMinMS/msPerKmh, m.limits.speedMaxMS/msPerKmh)
	}
	if m.sums.shortM > 0 {
		add("%.1f m in passes shorter than %g m were left out", m.sums.shortM, m.limits.leastPassM)
	}
	if r.BridgedM > 0 {
		add("%.1f row metres lie across dropouts of reception and count as sown", r.BridgedM)
	}
	if m.betweenRows() {
		add("most passes run half way between two rows: if the machine sows several rows at once, give its rows and their gap")
	} else if aside := median(m.sums.asideM); math.Abs(aside) > asideWorthSaying && len(m.sums.asideM) >= 4 {
		add("the passes lie %.1f m %s of their rows on average: check the datum of boundary and log, and the implement's offset", math.Abs(aside), side(aside))
	}
	return notes
}

// betweenRows tells whether a machine of one row mostly ran in the middle of a belt: a wide
// one was left undescribed.
func (m *matcher) betweenRows() bool {
	if !m.sums.singles || len(m.plan.Rows) < 2 {
		return false
	}
	aside, gaps := []float64{}, []float64{}
	for _, a := range m.sums.asideM {
		aside = append(aside, math.Abs(a))
	}
	for i := 1; i < len(m.plan.Rows); i++ {
		gaps = append(gaps, m.plan.Rows[i].OffsetM-m.plan.Rows[i-1].OffsetM)
	}
	return median(aside) > middleOfGap*slices.Min(gaps)
}

// middleOfGap is the share of a row gap beyond which a pass lies nearer to its middle.
const middleOfGap = 0.25

// asideWorthSaying is the mean distance of all passes from their rows, in metres, that is
// remarked on: our choice.
const asideWorthSaying = 0.75

func side(asideM float64) string {
	if asideM > 0 {
		return "to the right"
	}
	return "to the left"
}

// listsFilled gives empty lists where there are none, as JSON readers expect.
func (r Record) listsFilled() Record {
	if r.RefusedFixes == nil {
		r.RefusedFixes = []Refused{}
	}
	if r.PassList == nil {
		r.PassList = []Pass{}
	}
	if r.Notes == nil {
		r.Notes = []string{}
	}
	for i := range r.Rows {
		row := &r.Rows[i]
		row.Sown, row.Missed, row.Doubled = filled(row.Sown), filled(row.Missed), filled(row.Doubled)
	}
	return r
}
