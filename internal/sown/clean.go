package sown

import (
	"fmt"
	"math"
	"time"

	"rowtally/internal/ground"
)

// What no machine does. These bounds only tell a receiver's fault from driving, so they
// lie far from both; they are ours, not published.
const (
	fastestMS        = 40.0 // metres per second: faster than a truck on the road
	jumpSlackM       = 20.0 // what a poor receiver may scatter from one fix to the next
	longestExcursion = 10   // fixes: a receiver that is away longer has not come back
)

// cleaner takes the fixes one by one and keeps those that can follow on one another.
type cleaner struct {
	kept    []Fix
	refused []Refused

	from  time.Time // where the present spell begins
	past  []spell   // those before it on the track
	until time.Time // where the next of those begins; zero for none
	anew  []Fix     // where a track began because the times went back
}

// spell is a time without a long pause, from its first fix to its last, and the line of that.
type spell struct {
	from, to time.Time
	line     int
}

// clean leaves out fixes with a time that was there already, with a time that went back,
// and those that jump away and back. Where the track goes on from the far side of a jump, or
// from an earlier time that was not driven yet, it is parted there. It works in place and in
// linear time.
func (c *cleaner) clean(fixes []Fix) {
	for i := 0; i < len(fixes); {
		i += c.take(fixes[i:])
	}
}

// take deals with the first of the fixes still to come, or the first few, and says with
// how many.
func (c *cleaner) take(rest []Fix) int {
	fix := &rest[0]
	if len(c.kept) == 0 || fix.Link == Apart {
		c.past = c.past[:0]
		c.begin(fix.Time)
		return c.keep(*fix)
	}
	last := &c.kept[len(c.kept)-1]
	timed := last.Timed() && fix.Timed()
	switch {
	case timed && fix.Time.Equal(last.Time):
		c.refuse(*fix, "it has the time of line %d", last.Line)
		return 1
	case timed && fix.Time.Before(last.Time):
		return c.takeEarlier(rest)
	case timed && !c.until.IsZero() && !fix.Time.Before(c.until) && c.was(fix.Time) > 0:
		c.refuse(*fix, "its time was there already, up to line %d", c.was(fix.Time))
		return 1
	case jumps(last, fix):
		return c.takeJump(rest)
	}
	return c.keep(*fix)
}

func (c *cleaner) refuse(fix Fix, format string, args ...any) {
	c.refused = append(c.refused, Refused{Line: fix.Line, Why: fmt.Sprintf(format, args...)})
}

func (c *cleaner) refuseFar(fix, from Fix) {
	c.refuse(fix, "it lies %.0f m from line %d, farther than a machine drives in that time", roughM(from.At, fix.At), from.Line)
}

// keep keeps a fix, with which a spell begins after a long pause or a spell that is past.
func (c *cleaner) keep(fix Fix) int {
	if len(c.kept) > 0 && fix.Link != Apart && fix.Timed() {
		last := &c.kept[len(c.kept)-1]
		paused := last.Timed() && fix.Time.Sub(last.Time) > longPause
		if paused || !c.until.IsZero() && fix.Time.After(c.until) {
			c.leave(last)
			c.begin(fix.Time)
		}
	}
	c.kept = append(c.kept, fix)
	return 1
}

// takeEarlier refuses a fix whose time went back, unless it is the fix before whose time
// ran ahead of both sides.
func (c *cleaner) takeEarlier(rest []Fix) int {
	fix, last := rest[0], c.kept[len(c.kept)-1]
	if c.ranAhead(rest) {
		c.kept = c.kept[:len(c.kept)-1]
		if n := len(c.past); n > 0 && c.from.Equal(last.Time) {
			from := c.past[n-1].from
			c.past = c.past[:n-1]
			c.begin(from)
		}
		c.refuse(last, "its time ran ahead to %s and the log came back", last.Time.Format(dayAndTime))
		return 0
	}
	if c.beginsAnew(rest) {
		c.anew, fix.Link = append(c.anew, fix), Apart
		c.leave(&last)
		c.begin(fix.Time)
		return c.keep(fix)
	}
	c.refuse(fix, "its time goes back, to %s after %s", fix.Time.Format(time.TimeOnly), last.Time.Format(time.TimeOnly))
	return 1
}

// What makes a track of its own of fixes whose time went back: so many on end, and not too
// often in one file. A pause parts spells. All three are our choice.
const (
	anewFixes  = 10
	mostSpells = 50
	longPause  = time.Hour
)

// leave keeps the present spell among those past.
func (c *cleaner) leave(last *Fix) {
	if len(c.past) < mostSpells {
		c.past = append(c.past, spell{c.from, last.Time, last.Line})
	}
}

// begin begins a spell, which lasts no longer than until the next that is past.
func (c *cleaner) begin(from time.Time) {
	c.from, c.until = from, time.Time{}
	for _, s := range c.past {
		if s.from.After(from) && (c.until.IsZero() || s.from.Before(c.until)) {
			c.until = s.from
		}
	}
}

// beginsAnew tells whether the fixes to come go on forward from a time that went back, over
// times that were not driven yet: several days' logs in one file, in any order.
func (c *cleaner) beginsAnew(rest []Fix) bool {
	if len(rest) < anewFixes || len(c.past) == mostSpells || c.from.IsZero() {
		return false
	}
	for i := range anewFixes {
		if i > 0 && (!rest[i-1].Time.Before(rest[i].Time) || rest[i].Link == Apart) {
			return false
		}
		if at := rest[i].Time; at.IsZero() || !at.Before(c.from) || c.was(at) > 0 {
			return false
		}
	}
	return true
}

// was is the line with which a spell ends that a time lies in; 0 for none.
func (c *cleaner) was(at time.Time) int {
	for _, s := range c.past {
		if !at.Before(s.from) && !at.After(s.to) {
			return s.line
		}
	}
	return 0
}

// ranAhead tells whether the last fix kept is the odd one: the fixes to come follow on
// the one before it and stay earlier than it.
func (c *cleaner) ranAhead(rest []Fix) bool {
	n := len(c.kept)
	if n < 2 || len(rest) < 2 || c.kept[n-1].Link == Apart {
		return false
	}
	before, odd := c.kept[n-2], c.kept[n-1]
	return before.Time.Before(rest[0].Time) && rest[0].Time.Before(rest[1].Time) && rest[1].Time.Before(odd.Time)
}

// takeJump refuses the fixes of an excursion, or a lone fix before the jump; else the
// track is parted.
func (c *cleaner) takeJump(rest []Fix) int {
	last := c.kept[len(c.kept)-1]
	if away := excursion(&last, rest); away > 0 {
		for _, fix := range rest[:away] {
			c.refuseFar(fix, last)
		}
		return away
	}
	fix := rest[0]
	fix.Link = Apart
	if lone := len(c.kept) == 1 || last.Link == Apart; lone {
		c.kept = c.kept[:len(c.kept)-1]
		c.refuseFar(last, fix)
	}
	return c.keep(fix)
}

// excursion is how many fixes lie away until the track is back where it was; 0 when it
// does not come back.
func excursion(last *Fix, rest []Fix) int {
	if len(rest) == 1 {
		return 1
	}
	for n := 1; n < len(rest) && n <= longestExcursion; n++ {
		if jumps(&rest[n-1], &rest[n]) && !jumps(last, &rest[n]) {
			return n
		}
	}
	return 0
}

// jumps tells whether no machine drives from one fix to the other in the time between.
// Without times it cannot be told.
func jumps(from, to *Fix) bool {
	if !from.Timed() || !to.Timed() {
		return false
	}
	mayDriveM := fastestMS*math.Abs(to.Time.Sub(from.Time).Seconds()) + jumpSlackM
	return roughAtMostM(from.At, to.At) > mayDriveM && roughM(from.At, to.At) > mayDriveM
}

const earthM = 6371000 // mean radius

// roughAtMostM is never less than roughM, and quickly had: the way along the meridian and
// along the equator.
func roughAtMostM(from, to ground.LatLon) float64 {
	return (math.Abs(to.Lat-from.Lat) + math.Abs(to.Lon-from.Lon)) * (earthM * math.Pi / 180)
}

// roughM is the distance in metres on a sphere, within 0.6 %: good enough to tell a jump
// or another district, never for a length.
func roughM(from, to ground.LatLon) float64 {
	lat1, lat2 := from.Lat*math.Pi/180, to.Lat*math.Pi/180
	sinLat, sinLon := math.Sin((lat2-lat1)/2), math.Sin((to.Lon-from.Lon)*math.Pi/360)
	a := sinLat*sinLat + math.Cos(lat1)*math.Cos(lat2)*sinLon*sinLon
	return 2 * earthM * math.Asin(math.Sqrt(math.Min(a, 1)))
}
