package sown

import (
	"math"
	"time"
)

// track is one log while it is matched.
type track struct {
	number   int // 1, 2, 3…, 0 where there is one log
	machine  Implement
	start    time.Time
	flagged  bool
	runs     []run
	scatterM float64
	slowM    float64 // the part of the scatter that is not new at every fix
	guide    guide
	lanes    lanes
}

// match adds the drive of an index.
func (m *matcher) match(index int, drive Drive) {
	if len(drive.Log.Fixes) == 0 {
		return // all of it is in another log
	}
	t := m.track(index, drive)
	m.note(t)
	var passes []pass
	for _, s := range m.headlands(t, t.stretches(m.limits.flagLagS)) {
		f := t.guide.passesOf(s, t.flagged)
		if t.flagged {
			m.sums.record.UnplannedM += f.acrossM * float64(t.machine.Rows)
			m.sums.record.CurvedM += f.acrossM * float64(t.machine.Rows)
		}
		passes = append(passes, m.likely(t, f.passes)...)
	}
	t.lanes.seat(passes, t.slowM)
	bridges := bridger{t.runs, t.guide.strayM, m.limits, t.machine.BehindM}
	joined := bridges.joined(passes)
	for _, p := range silenceOf(t, m.rows, m.limits, joined).filled(joined) {
		m.tally(t, p)
	}
}

func (m *matcher) track(index int, drive Drive) track {
	log := drive.Log
	t := track{number: m.number(index), machine: drive.Machine, start: origin(log), flagged: log.Flagged(), runs: runsOf(log, m.plan)}
	t.guide, t.scatterM, t.slowM = guideFor(t.runs, m.limits)
	t.lanes = lanesFor(m.plan.Rows, t.machine, m.limits.crossTrackM, t.scatterM)
	return t
}

// number is a log's in the record: from 1, or 0 where it is the only one.
func (m *matcher) number(index int) int {
	if m.several {
		return index + 1
	}
	return 0
}

// note takes over what a track says of its log.
func (m *matcher) note(t track) {
	s := &m.sums
	s.scattersM = append(s.scattersM, t.scatterM)
	s.byFlag, s.place = s.byFlag || t.flagged, s.place || !t.flagged
	s.singles = s.singles || t.machine.Rows == 1
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

// likely leaves out passes that cannot be sowing.
func (m *matcher) likely(t track, passes []pass) []pass {
	var out []pass
	for _, p := range passes {
		if length := math.Abs(p.last().along - p.first().along); length < m.limits.leastPassM {
			m.sums.shortM += length
			continue
		}
		if !t.flagged && !m.plausible(p, max(m.limits.crossTrackM, sureTimes*t.slowM)) {
			continue
		}
		if speed := p.speedMS(); t.flagged && (speed < m.limits.speedMinMS || speed > m.limits.speedMaxMS) {
			m.sums.outOfWindow++
		}
		p.astray = p.driftM() > t.guide.strayM
		out = append(out, p)
	}
	return out
}

// plausible tells whether a drive without the implement's state may have been sowing: at a
// sowing speed, and beside the planned rows.
func (m *matcher) plausible(p pass, asideM float64) bool {
	if speed := p.speedMS(); speed < m.limits.speedMinMS || speed > m.limits.speedMaxMS {
		return false
	}
	middle := point{along: m.bounds.along.FromM, across: p.acrossM()}
	return m.bounds.awayM(middle) <= asideM && p.extent(0).and(m.bounds.along).lengthM() > 0
}

// driftM is how far aside a pass comes from its middle to either end: one that crosses the
// rows at a flat angle lies on none, though its middle does.
func (p pass) driftM() float64 {
	middle := p.acrossM()
	return max(math.Abs(p.line.acrossAt(p.first().along)-middle), math.Abs(p.line.acrossAt(p.last().along)-middle))
}
