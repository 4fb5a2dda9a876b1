package sown

import (
	"math"
	"time"
)

// track is one log while it is matched.
type track struct {
	number   int // 1, 2, 3…, 0 where there is one log
	start    time.Time
	flagged  bool
	runs     []run
	scatterM float64
	guide    guide
	lanes    lanes
}

// match adds the log of an index.
func (m *matcher) match(index int, log Log) {
	t := m.track(index, log)
	m.note(t, log)
	var passes []pass
	for _, s := range t.stretches(m.limits.flagLagS) {
		f := t.guide.passesOf(s, t.flagged)
		if t.flagged {
			m.sums.record.UnplannedM += f.acrossM * float64(m.machine.Rows)
		}
		passes = append(passes, m.berthed(t, f.passes)...)
	}
	bridges := bridger{t.runs, t.guide.strayM, m.limits.bridgeM, m.machine.BehindM}
	for _, p := range bridges.joined(passes) {
		m.tally(t, p)
	}
}

func (m *matcher) track(index int, log Log) track {
	t := track{start: origin(log), flagged: log.Flagged(), runs: runsOf(log, m.plan)}
	if m.several {
		t.number = index + 1
	}
	t.guide, t.scatterM = guideFor(t.runs, m.limits)
	t.lanes = lanes{m.plan.Rows, m.machine, m.limits.crossTrackM, t.scatterM}
	return t
}

// note takes over what the log says of itself.
func (m *matcher) note(t track, log Log) {
	s := &m.sums
	s.record.Fixes += len(log.Fixes)
	for _, refused := range log.Refused {
		refused.Log = t.number
		s.record.RefusedFixes = append(s.record.RefusedFixes, refused)
	}
	s.record.Notes = append(s.record.Notes, log.Notes...)
	s.scattersM = append(s.scattersM, t.scatterM)
	s.byFlag, s.place = s.byFlag || t.flagged, s.place || !t.flagged
}

// stretches are where the implement may have been sowing: where the log says so, or
// everywhere.
func (t track) stretches(lagS float64) []stretch {
	if t.flagged {
		return stretchesByFlag(t.runs, lagS)
	}
	return stretchesByPlace(t.runs)
}

// origin is the moment from which the points of a log count their seconds; zero where no
// day is known.
func origin(log Log) time.Time {
	for _, fix := range log.Fixes {
		if fix.Timed() && !log.Undated {
			return fix.Time
		}
	}
	return time.Time{}
}

// berthed finds the rows below each pass and leaves out what cannot be sowing.
func (m *matcher) berthed(t track, passes []pass) []pass {
	var out []pass
	for _, p := range passes {
		if length := math.Abs(p.last().along - p.first().along); length < m.limits.leastPassM {
			m.sums.shortM += length
			continue
		}
		if !t.flagged && !m.plausible(p) {
			continue
		}
		p.berth = t.lanes.find(p.acrossM(), p.backward())
		if p.driftM() > t.guide.strayM {
			p.berth = t.lanes.none()
		}
		out = append(out, p)
	}
	return out
}

// plausible tells whether a drive without the implement's state may have been sowing: at a
// sowing speed, and beside the planned rows.
func (m *matcher) plausible(p pass) bool {
	if speed := p.speedMS(); speed < m.limits.speedMinMS || speed > m.limits.speedMaxMS {
		return false
	}
	middle := point{along: m.bounds.along.FromM, across: p.acrossM()}
	return m.bounds.awayM(middle) <= m.limits.crossTrackM && p.extent(0).and(m.bounds.along).lengthM() > 0
}

// driftM is how far aside a pass comes from its middle to either end: one that crosses the
// rows at a flat angle lies on none, though its middle does.
func (p pass) driftM() float64 {
	middle := p.acrossM()
	return max(math.Abs(p.line.acrossAt(p.first().along)-middle), math.Abs(p.line.acrossAt(p.last().along)-middle))
}
