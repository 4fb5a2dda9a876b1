package walk

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"time"
)

// drive is a machine sowing the planned rows, belt after belt, up and down, as its
// receiver logs it.
type drive struct {
	plan       rowPlan
	bearingDeg float64
	skip       int // belt that is passed over
	twice      int // belt that is sown twice
	begin      time.Time
	offN       float64 // metres north that all of it lies off, as on another paddock
}

const (
	sowingMS = 6 / 3.6
	noiseM   = 0.02 // on each axis, of a corrected receiver
	runOutM  = 8.0  // driven on, lifted, beyond a row's end
	turnS    = 20.0
)

// fix is one line of the log.
type fix struct {
	at     place
	moment time.Time
	sowing bool
}

// reach is a stretch along the bearing.
type reach struct{ from, to float64 }

// track is one belt in the plane along and across the bearing.
type track struct {
	across float64
	ways   []reach // where any of its rows is sown
}

// fixes drives all belts but the one skipped.
func (d drive) fixes() []fix {
	f := flatAt(d.plan.Rows[0].Spans[0].From)
	noise := rand.New(rand.NewPCG(11, 5))
	moment, forward := d.begin, true
	var out []fix
	for belt := 1; belt <= d.plan.BeltCount; belt++ {
		passes := map[int]int{d.skip: 0, d.twice: 2}
		times, special := passes[belt]
		if !special {
			times = 1
		}
		for range times {
			leg := d.leg(f, d.track(f, belt), forward, moment, noise)
			out = append(out, leg...)
			moment = leg[len(leg)-1].moment.Add(turnS * time.Second)
			forward = !forward
		}
	}
	return out
}

// track finds the middle of a belt, and joins the stretches of its rows.
func (d drive) track(f flat, belt int) track {
	var out track
	rows := 0.0
	for _, row := range d.plan.Rows {
		if row.Belt != belt {
			continue
		}
		rows++
		for i, s := range row.Spans {
			from, across := d.along(f, s.From)
			to, _ := d.along(f, s.To)
			out.ways = append(out.ways, reach{from, to})
			if i == 0 {
				out.across += across
			}
		}
	}
	out.across /= rows
	slices.SortFunc(out.ways, func(a, b reach) int { return cmp.Compare(a.from, b.from) })
	joined := out.ways[:1]
	for _, w := range out.ways[1:] {
		if last := &joined[len(joined)-1]; w.from <= last.to {
			last.to = max(last.to, w.to)
		} else {
			joined = append(joined, w)
		}
	}
	out.ways = joined
	return out
}

// along turns a place into metres along and across the bearing.
func (d drive) along(f flat, p place) (along, across float64) {
	e, n := f.to(p)
	sin, cos := math.Sincos(d.bearingDeg * math.Pi / 180)
	return e*sin + n*cos, e*cos - n*sin
}

func (d drive) place(f flat, along, across float64) place {
	sin, cos := math.Sincos(d.bearingDeg * math.Pi / 180)
	return f.from(along*sin+across*cos, along*cos-across*sin+d.offN)
}

// leg is one drive along a belt: a fix every second, and one at each end of a row.
func (d drive) leg(f flat, t track, forward bool, begin time.Time, noise *rand.Rand) []fix {
	first, last := t.ways[0].from-runOutM, t.ways[len(t.ways)-1].to+runOutM
	stops := []float64{last}
	for at := first; at < last; at += sowingMS {
		stops = append(stops, at)
	}
	for _, w := range t.ways {
		stops = append(stops, w.from, w.to)
	}
	slices.Sort(stops)
	if !forward {
		slices.Reverse(stops)
	}
	var out []fix
	for _, at := range stops {
		p := d.place(f, at+noiseM*noise.NormFloat64(), t.across+noiseM*noise.NormFloat64())
		gone := math.Abs(at-stops[0]) / sowingMS
		out = append(out, fix{p, begin.Add(time.Duration(gone * float64(time.Second))), t.sows(at)})
	}
	return out
}

func (t track) sows(at float64) bool {
	return slices.ContainsFunc(t.ways, func(w reach) bool { return at >= w.from && at <= w.to })
}

// logOf writes fixes in the format of a name.
func logOf(name string, fixes []fix) string {
	if strings.HasSuffix(name, ".gpx") {
		return gpx(fixes)
	}
	return csv(fixes)
}

func csv(fixes []fix) string {
	var out strings.Builder
	out.WriteString("time,latitude,longitude,sowing\n")
	for _, f := range fixes {
		fmt.Fprintf(&out, "%s,%.8f,%.8f,%d\n", f.moment.UTC().Format(time.RFC3339Nano), f.at.Lat, f.at.Lon, map[bool]int{true: 1}[f.sowing])
	}
	return out.String()
}

// gpx writes a track segment for each stretch sown: GPX has no word for the implement.
func gpx(fixes []fix) string {
	var out strings.Builder
	out.WriteString(`<?xml version="1.0"?><gpx version="1.1" creator="walk" xmlns="http://www.topografix.com/GPX/1/1"><trk>`)
	open := false
	for _, f := range fixes {
		if f.sowing != open {
			out.WriteString(map[bool]string{true: "<trkseg>\n", false: "</trkseg>\n"}[f.sowing])
			open = f.sowing
		}
		if f.sowing {
			fmt.Fprintf(&out, "<trkpt lat=\"%.8f\" lon=\"%.8f\"><time>%s</time></trkpt>\n", f.at.Lat, f.at.Lon, f.moment.UTC().Format(time.RFC3339Nano))
		}
	}
	if open {
		out.WriteString("</trkseg>")
	}
	return out.String() + "</trk></gpx>\n"
}
