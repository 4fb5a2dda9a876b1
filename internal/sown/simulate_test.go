package sown

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"rowtally/internal/ground"
	"rowtally/internal/rows"
)

// paddock is a plan over a rectangle, invented, near 36.4° S 140.1° E.
func paddock(t testing.TB, widthM, lengthM, bearingDeg float64, rowsPerBelt int, gapM, alleyM float64, noGo ...string) rows.Plan {
	t.Helper()
	plan, err := rows.Lay(paddockInput(t, widthM, lengthM, bearingDeg, rowsPerBelt, gapM, alleyM, noGo...))
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

func paddockInput(t testing.TB, widthM, lengthM, bearingDeg float64, rowsPerBelt int, gapM, alleyM float64, noGo ...string) rows.Input {
	t.Helper()
	frame := ground.NewFrame(ground.LatLon{Lat: -36.4, Lon: 140.1})
	turned := rows.Plan{BearingDeg: bearingDeg}
	var ring [][2]float64
	for _, c := range [][2]float64{{0, 0}, {lengthM, 0}, {lengthM, widthM}, {0, widthM}, {0, 0}} {
		at := frame.ToEarth(turned.Place(c[0]-lengthM/2, c[1]-widthM/2))
		ring = append(ring, [2]float64{at.Lon, at.Lat})
	}
	boundary, _ := json.Marshal(map[string]any{"type": "Polygon", "coordinates": [][][2]float64{ring}})
	text := fmt.Sprintf(`{"boundary":%s,"no_go":[%s],"headland_m":20,"phase_m":21,"no_go_margin_m":5,"bearing_deg":%g,"rows_per_belt":%d,"row_gap_m":%g,"alley_m":%g,"placement_spacing_m":3}`,
		boundary, strings.Join(noGo, ","), bearingDeg, rowsPerBelt, gapM, alleyM)
	var in rows.Input
	if err := json.Unmarshal([]byte(text), &in); err != nil {
		t.Fatal(err)
	}
	return in
}

// drive is one straight drive of the antenna, in the plan, and where it sowed.
type drive struct {
	across, from, to float64
	sown             extents
}

// logger says how a drive is logged.
type logger struct {
	hz, speedMS      float64
	scatterM         float64 // standard deviation of each axis
	memoryS          float64 // of the error; 0 for none
	flagLagS         float64 // the logged state trails by this
	bowM             float64 // the most that a drive strays from the middle line, half way
	runOutM          float64 // straight on past the row before the turn
	withTime, asFlag bool
	speeds           bool
	dropouts         [][2]float64 // seconds without a fix, from and to
	seed             uint64
}

// rtk logs at 1 Hz and 2 m/s with 2 cm of scatter.
var rtk = logger{hz: 1, speedMS: 2, scatterM: 0.02, runOutM: 4, withTime: true, asFlag: true, seed: 1}

// farm is the whole plan driven once, up and down: every row, or every belt by a machine
// as wide as one.
func farm(plan rows.Plan, machine Implement) []drive {
	var drives []drive
	for i := 0; i < len(plan.Rows); i += machine.Rows {
		row := plan.Rows[i]
		middle := (row.OffsetM + plan.Rows[i+machine.Rows-1].OffsetM) / 2
		d := drive{across: middle - machine.OffsetRightM, from: row.Spans[0].FromM, to: row.Spans[len(row.Spans)-1].ToM}
		for _, span := range row.Spans {
			d.sown = append(d.sown, Extent{span.FromM, span.ToM})
		}
		if len(drives)%2 == 1 {
			d.across, d.from, d.to = middle+machine.OffsetRightM, d.to, d.from
		}
		drives = append(drives, d)
	}
	return drives
}

// sample is one moment of the truth.
type sample struct {
	along, across float64
	sowing        bool
}

// path is the truth, every stepM metres: each drive with its run-out, then a half circle
// and a straight to the next.
func path(drives []drive, stepM, runOutM, behindM float64) []sample {
	var out []sample
	left := 0.0 // of a step, to the next sample
	segment := func(lengthM float64, at func(m float64) sample) {
		m := left
		for ; m < lengthM; m += stepM {
			out = append(out, at(m))
		}
		left = m - lengthM
	}
	for i, d := range drives {
		sense := math.Copysign(1, d.to-d.from)
		start, stop := d.from-sense*runOutM, d.to+sense*(runOutM+behindM)
		if i+1 < len(drives) { // both ends of a turn lie level
			stop = sense * max(sense*stop, sense*(drives[i+1].from+sense*runOutM))
		}
		if i > 0 {
			start = out[len(out)-1].along
		}
		segment(math.Abs(stop-start), func(m float64) sample {
			along := start + sense*m
			sown := false
			for _, e := range d.sown {
				seeder := along - sense*behindM
				sown = sown || seeder >= e.FromM && seeder < e.ToM
			}
			return sample{along, d.across, sown}
		})
		if i+1 < len(drives) {
			aside := drives[i+1].across - d.across
			radius := math.Abs(aside) / 2
			segment(math.Pi*radius, func(m float64) sample {
				sin, cos := math.Sincos(m / radius)
				return sample{stop + sense*radius*sin, d.across + aside*(1-cos)/2, false}
			})
		}
	}
	return out
}

// noise is a first-order autoregressive error with a memory, or none.
func noise(sigma, memoryS, dtS float64, random *rand.Rand) func() float64 {
	rho := 0.0
	if memoryS > 0 {
		rho = math.Exp(-dtS / memoryS)
	}
	x := sigma * random.NormFloat64()
	return func() float64 {
		x = rho*x + sigma*math.Sqrt(1-rho*rho)*random.NormFloat64()
		return x
	}
}

// csvLog writes what the logger makes of the drives.
func (l logger) csvLog(plan rows.Plan, drives []drive, behindM float64) string {
	var text strings.Builder
	text.WriteString(strings.Join(l.columns(), ",") + "\n")
	l.each(plan, drives, behindM, func(at time.Time, where ground.LatLon, sowing bool) {
		if l.withTime {
			text.WriteString(at.Format("2006-01-02T15:04:05.000Z,"))
		}
		fmt.Fprintf(&text, "%.8f,%.8f", where.Lat, where.Lon)
		if l.asFlag {
			fmt.Fprintf(&text, ",%v", sowing)
		}
		if l.speeds {
			fmt.Fprintf(&text, ",%.3f", l.speedMS)
		}
		text.WriteByte('\n')
	})
	return text.String()
}

// direct is the same log without a file, clean as a reader leaves it.
func (l logger) direct(plan rows.Plan, drives []drive) (log Log) {
	l.each(plan, drives, 0, func(at time.Time, where ground.LatLon, sowing bool) {
		fix := Fix{Line: len(log.Fixes) + 1, At: where, Time: at, SpeedMS: math.NaN(), HeadingDeg: notGiven, Sowing: Lifted}
		if sowing {
			fix.Sowing = Sowing
		}
		log.Fixes = append(log.Fixes, fix)
	})
	return log
}

func (l logger) columns() []string {
	var names []string
	for _, c := range []struct {
		name string
		is   bool
	}{{"time", l.withTime}, {"lat", true}, {"lon", true}, {"sowing", l.asFlag}, {"speed_ms", l.speeds}} {
		if c.is {
			names = append(names, c.name)
		}
	}
	return names
}

func (l logger) each(plan rows.Plan, drives []drive, behindM float64, take func(at time.Time, where ground.LatLon, sowing bool)) {
	random := rand.New(rand.NewPCG(l.seed, 7))
	along, across := noise(l.scatterM, l.memoryS, 1/l.hz, random), noise(l.scatterM, l.memoryS, 1/l.hz, random)
	begin := time.Date(2026, 7, 20, 1, 0, 0, 0, time.UTC)
	samples := path(drives, l.speedMS/l.hz, l.runOutM, behindM)
	l.bow(samples, drives)
	lag := int(math.Round(l.flagLagS * l.hz))
	for i, s := range samples {
		seconds := float64(i) / l.hz
		da, dc := along(), across()
		if l.silent(seconds) {
			continue
		}
		flag := i-lag >= 0 && i-lag < len(samples) && samples[i-lag].sowing
		at := plan.Frame.ToEarth(plan.Place(s.along+da, s.across+dc))
		take(begin.Add(time.Duration(seconds*float64(time.Second))), at, flag)
	}
}

// bow bends every drive to the right of the bearing in half a wave.
func (l logger) bow(samples []sample, drives []drive) {
	if l.bowM == 0 {
		return
	}
	low, high := min(drives[0].from, drives[0].to), max(drives[0].from, drives[0].to)
	for i := range samples {
		if share := (samples[i].along - low) / (high - low); share > 0 && share < 1 {
			samples[i].across += l.bowM * math.Sin(math.Pi*share)
		}
	}
}

func (l logger) silent(seconds float64) bool {
	for _, d := range l.dropouts {
		if seconds > d[0] && seconds < d[1] {
			return true
		}
	}
	return false
}

// truthM is the row metres that were sown.
func truthM(drives []drive, machine Implement) float64 {
	sum := 0.0
	for _, d := range drives {
		sum += d.sown.lengthM() * float64(machine.Rows)
	}
	return sum
}

// logged reads and matches a log of drives.
func logged(t testing.TB, l logger, plan rows.Plan, drives []drive, machine Implement, tolerances Tolerances) Record {
	t.Helper()
	log, err := Read("csv", l.csvLog(plan, drives, machine.BehindM))
	if err != nil {
		t.Fatal(err)
	}
	record, err := Match(plan, []Log{log}, machine, tolerances)
	if err != nil {
		t.Fatal(err)
	}
	return record
}
