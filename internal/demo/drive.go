package demo

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"time"

	"rowtally/internal/ground"
	"rowtally/internal/rows"
	"rowtally/internal/unit"
)

// drive is an invented log: a machine sowing belt after belt, up and down.
type drive struct {
	name  string    // its ending tells the format
	on    unit.Date // first day
	share float64   // of the planned row length that is sown before the drive ends
	seed  uint64    // of the receiver's noise
}

const (
	driveMS   = 6.0 / 3.6 // while sowing
	everyS    = 1.0
	noiseM    = 0.02 // per axis, a corrected receiver
	turnM     = 9.0  // driven on beyond a row's end before the turn
	turnTakes = 25.0 // seconds
)

// fix is one line of the log.
type fix struct {
	at     ground.LatLon
	moment time.Time
	sowing bool
}

// write drives the plan and writes the log in the format of its name.
func (d drive) write(p rows.Plan) string {
	fixes := d.over(p)
	if strings.HasSuffix(d.name, ".gpx") {
		return asGPX(fixes)
	}
	return asCSV(fixes)
}

// over drives every belt along its middle until the share of row length is sown.
func (d drive) over(p rows.Plan) []fix {
	noise := rand.New(rand.NewPCG(d.seed, 17))
	left, moment := d.share*p.RowM, morning(d.on)
	var fixes []fix
	for i := 0; i < len(p.Rows) && left > 0; {
		belt := beltFrom(p.Rows, i)
		i += len(belt)
		forward := belt[0].Belt%2 == 1
		for _, span := range passesOf(belt, forward) {
			length := span.to - span.from
			if !forward {
				length = -length
			}
			part := min(1, left/(length*float64(len(belt))))
			left -= length * float64(len(belt))
			stop := span.from + (span.to-span.from)*part
			leg := d.leg(p, middle(belt), span.from, stop, moment, noise)
			fixes = append(fixes, leg...)
			moment = leg[len(leg)-1].moment.Add(time.Duration(turnTakes * float64(time.Second)))
			if left <= 0 {
				break
			}
		}
	}
	return fixes
}

// leg is one pass: lifted on the way in and out, sowing between.
func (d drive) leg(p rows.Plan, offset, from, to float64, begin time.Time, noise *rand.Rand) []fix {
	way := 1.0
	if to < from {
		way = -1
	}
	var fixes []fix
	length := way * (to - from)
	for along := -turnM; along <= length+turnM; along += driveMS * everyS {
		at := p.Place(from+way*along, offset)
		at.E += noise.NormFloat64() * noiseM
		at.N += noise.NormFloat64() * noiseM
		moment := begin.Add(time.Duration((along + turnM) / driveMS * float64(time.Second)))
		fixes = append(fixes, fix{p.Frame.ToEarth(at), moment, along >= 0 && along <= length})
	}
	return fixes
}

type pass struct{ from, to float64 }

// passesOf are the stretches over which any row of a belt is sown, in driving order.
func passesOf(belt []rows.Row, forward bool) []pass {
	var spans []pass
	for _, row := range belt {
		for _, span := range row.Spans {
			spans = append(spans, pass{span.FromM, span.ToM})
		}
	}
	slices.SortFunc(spans, func(a, b pass) int { return cmp.Compare(a.from, b.from) })
	var passes []pass
	for _, span := range spans {
		if last := len(passes) - 1; last >= 0 && span.from <= passes[last].to {
			passes[last].to = max(passes[last].to, span.to)
			continue
		}
		passes = append(passes, span)
	}
	if !forward {
		slices.Reverse(passes)
		for i := range passes {
			passes[i].from, passes[i].to = passes[i].to, passes[i].from
		}
	}
	return passes
}

func beltFrom(all []rows.Row, i int) []rows.Row {
	end := i + 1
	for end < len(all) && all[end].Belt == all[i].Belt {
		end++
	}
	return all[i:end]
}

func middle(belt []rows.Row) float64 {
	sum := 0.0
	for _, row := range belt {
		sum += row.OffsetM
	}
	return sum / float64(len(belt))
}

func asCSV(fixes []fix) string {
	var out strings.Builder
	out.WriteString("time,lat,lon,sowing\n")
	for _, f := range fixes {
		on := 0
		if f.sowing {
			on = 1
		}
		fmt.Fprintf(&out, "%s,%.8f,%.8f,%d\n", f.moment.UTC().Format(time.RFC3339Nano), f.at.Lat, f.at.Lon, on)
	}
	return out.String()
}

// asGPX writes only the fixes while sowing, a track segment for each pass: GPX has no
// word for an implement.
func asGPX(fixes []fix) string {
	var out strings.Builder
	out.WriteString(`<?xml version="1.0" encoding="UTF-8"?>` + "\n" + `<gpx version="1.1" creator="demo" xmlns="http://www.topografix.com/GPX/1/1"><trk>` + "\n")
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
		out.WriteString("</trkseg>\n")
	}
	out.WriteString("</trk></gpx>\n")
	return out.String()
}
