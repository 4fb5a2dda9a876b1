package sown

import (
	"fmt"
	"slices"
	"sort"
	"time"

	"rowtally/internal/ground"
)

// What shows that two logs hold one machine: our choice, not published. Two machines never
// sow within this of each other at one moment.
const (
	sameMachineM = 5.0             // metres between the places that two logs give for one moment…
	stillSameM   = 15.0            // …and once they do, while they stay this near: two receivers scatter
	sameMachineS = 5 * time.Second // between two fixes, the place is told by the way from one to the other
)

// once leaves every moment of a machine to one of the drives that hold it, and says so.
// Drives that tell the implement's state go before the others.
func (m *matcher) once(drives []Drive) []Drive {
	out := slices.Clone(drives)
	order := make([]int, len(drives))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return rank(drives[a].Log) - rank(drives[b].Log) })
	for k, i := range order {
		m.noteLog(i, drives[i].Log)
		for _, earlier := range order[:k] {
			m.leave(i, out, drives[earlier], earlier)
		}
	}
	return out
}

func rank(log Log) int {
	if log.Flagged() {
		return 0
	}
	return 1
}

// noteLog takes over what a log says of itself.
func (m *matcher) noteLog(index int, log Log) {
	r := &m.sums.record
	r.Fixes += len(log.Fixes)
	for _, refused := range log.Refused {
		refused.Log = m.number(index)
		r.RefusedFixes = append(r.RefusedFixes, refused)
	}
	r.Notes = append(r.Notes, log.Notes...)
}

// leave takes out of drive i the moments that another holds too.
func (m *matcher) leave(i int, drives []Drive, other Drive, number int) {
	mine := drives[i].Log
	if mine.Undated != other.Log.Undated || !mine.meets(other.Log) {
		return
	}
	p := parter{cover: coverOf(other.Log), why: fmt.Sprintf("%s has the machine at this time too, and counts", other.Name)}
	for _, fix := range mine.Fixes {
		p.take(fix)
	}
	if p.left == 0 {
		return
	}
	r := &m.sums.record
	for _, refused := range p.refused {
		refused.Log = m.number(i)
		r.RefusedFixes = append(r.RefusedFixes, refused)
	}
	r.Fixes -= p.left
	r.Notes = append(r.Notes, fmt.Sprintf("%d fixes of %s are of the same machine and time as %s, and count once", p.left, drives[i].Name, other.Name))
	drives[i].Log.Fixes = p.kept
}

// meets tells whether the times of two logs overlap; both count from one day.
func (l Log) meets(o Log) bool {
	from, to := l.times()
	otherFrom, otherTo := o.times()
	return !to.IsZero() && !otherTo.IsZero() && !from.After(otherTo) && !otherFrom.After(to)
}

// cover is the timed fixes of a log in the order of time.
type cover []Fix

func coverOf(log Log) cover {
	for i := range log.Fixes {
		if !log.Fixes[i].Timed() || i > 0 && log.Fixes[i].Time.Before(log.Fixes[i-1].Time) {
			return sortedCover(log)
		}
	}
	return log.Fixes
}

func sortedCover(log Log) cover {
	timed := slices.DeleteFunc(slices.Clone(log.Fixes), func(f Fix) bool { return !f.Timed() })
	slices.SortStableFunc(timed, func(a, b Fix) int { return a.Time.Compare(b.Time) })
	return timed
}

// after is the first fix later than a moment.
func (c cover) after(when time.Time) int {
	return sort.Search(len(c), func(i int) bool { return c[i].Time.After(when) })
}

// holds tells whether the cover has a machine within so many metres of a fix at its time.
func (c cover) holds(fix Fix, withinM float64) bool {
	i := c.after(fix.Time)
	if i > 0 && c[i-1].Time.Equal(fix.Time) {
		return roughM(c[i-1].At, fix.At) <= withinM
	}
	if i == 0 || i == len(c) || c[i].Link != Joined || c[i].Time.Sub(c[i-1].Time) > sameMachineS {
		return false
	}
	return roughM(placeAt(c[i-1], c[i], fix.Time), fix.At) <= withinM
}

// placeAt is the place on the straight way from p to q at a moment between theirs.
func placeAt(p, q Fix, when time.Time) ground.LatLon {
	share := when.Sub(p.Time).Seconds() / q.Time.Sub(p.Time).Seconds()
	return ground.LatLon{Lat: p.At.Lat + share*(q.At.Lat-p.At.Lat), Lon: p.At.Lon + share*(q.At.Lon-p.At.Lon)}
}

// parter parts a log at the moments that a cover holds too.
type parter struct {
	cover   cover
	why     string
	kept    []Fix
	refused []Refused
	left    int
	last    Fix  // the fix before
	out     bool // it was left out
}

func (p *parter) take(fix Fix) {
	withinM := sameMachineM
	if p.out {
		withinM = stillSameM
	}
	out := fix.Timed() && p.cover.holds(fix, withinM)
	switch {
	case out && p.out:
		run := &p.refused[len(p.refused)-1]
		run.ToLine, run.Fixes = fix.Line, run.Fixes+1
	case out:
		p.refused = append(p.refused, Refused{Line: fix.Line, Why: p.why, ToLine: fix.Line, Fixes: 1})
		p.close(fix)
	case p.out:
		p.open(fix)
	default:
		p.kept = append(p.kept, fix)
	}
	if out {
		p.left++
	}
	p.last, p.out = fix, out
}

// close ends what is kept where the cover begins, between the last fix kept and one that
// is left out, so that no way is lost at the seam.
func (p *parter) close(out Fix) {
	if len(p.kept) == 0 || out.Link != Joined || !p.last.Timed() {
		return
	}
	if i := p.cover.after(p.last.Time); i < len(p.cover) && !p.cover[i].Time.After(out.Time) {
		p.kept = append(p.kept, seam(p.last, out, p.cover[i].Time, p.last))
	}
}

// open begins to keep again where the cover ends, between a fix that was left out and the
// next.
func (p *parter) open(fix Fix) {
	if i := p.cover.after(fix.Time) - 1; fix.Link == Joined && fix.Timed() && i >= 0 && !p.cover[i].Time.Before(p.last.Time) && p.cover[i].Time.Before(fix.Time) {
		begin := seam(p.last, fix, p.cover[i].Time, fix)
		begin.Link = Apart
		p.kept = append(p.kept, begin, fix)
		return
	}
	fix.Link = Apart
	p.kept = append(p.kept, fix)
}

// seam is a fix on the way from p to q with the line and the state of one of them.
func seam(p, q Fix, when time.Time, like Fix) Fix {
	like.At, like.Time, like.Link = placeAt(p, q, when), when, Joined
	return like
}
