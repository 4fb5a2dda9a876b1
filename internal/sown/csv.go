package sown

import (
	"math"
	"strconv"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

// Metres per second in one unit of each speed. The knot is exactly 1852 m an hour.
const (
	msPerKmh  = 1 / 3.6
	msPerKnot = 1852.0 / 3600
)

// column is what a column of a CSV log means.
type column int

const (
	colNone column = iota
	colTime
	colLat
	colLon
	colSpeed
	colHeading
	colSowing
	columnCount
)

// columnNames are the recognised names, in lower case, with what a speed is multiplied by.
var columnNames = map[string]struct {
	means column
	ms    float64
}{
	"time":        {colTime, 0},
	"lat":         {colLat, 0},
	"latitude":    {colLat, 0},
	"lon":         {colLon, 0},
	"lng":         {colLon, 0},
	"longitude":   {colLon, 0},
	"speed_kmh":   {colSpeed, msPerKmh},
	"speed_ms":    {colSpeed, 1},
	"speed_kn":    {colSpeed, msPerKnot},
	"heading_deg": {colHeading, 0},
	"sowing":      {colSowing, 0},
}

// header says where a CSV log has which value.
type header struct {
	separator byte
	place     [columnCount]int // -1 where there is no such column
	speedMS   float64          // metres per second in one unit of the speed column
}

// readCSV reads a table with a header row. Columns stand in any order and case, parted by
// commas, semicolons or tabs; unknown ones are passed over. A quoted value ends on its line.
func readCSV(text string, into *gathering) error {
	var head *header
	var fields []string
	for number, line := range lines(text) {
		if strings.TrimSpace(line) == "" {
			continue
		}
		if head == nil {
			found, err := readHeader(line)
			if err != nil {
				return err
			}
			head = found
			continue
		}
		whole := false
		if fields, whole = split(line, head.separator, fields[:0]); !whole {
			into.refuse(number, "a quoted value is not closed on the line")
			continue
		}
		head.take(fields, number, into)
	}
	return nil
}

// readHeader finds the columns. It refuses a header without latitude and longitude, and
// one that gives a value twice.
func readHeader(line string) (*header, error) {
	head := header{separator: separatorOf(line)}
	for i := range head.place {
		head.place[i] = -1
	}
	names, _ := split(line, head.separator, nil)
	for i, name := range names {
		known := columnNames[strings.ToLower(strings.TrimSpace(name))]
		switch {
		case known.means == colNone, known.means == colSpeed && head.place[colSpeed] >= 0:
			continue
		case head.place[known.means] >= 0:
			return nil, fault.Refuse("", "the header has the columns %q and %q for one value, leave one of them out",
				names[head.place[known.means]], name)
		}
		head.place[known.means] = i
		if known.means == colSpeed {
			head.speedMS = known.ms
		}
	}
	if head.place[colLat] < 0 || head.place[colLon] < 0 {
		return nil, fault.Refuse("", "the header %q lacks latitude or longitude, name the columns lat and lon in the first line", shortened(line))
	}
	return &head, nil
}

func separatorOf(line string) byte {
	best := byte(',')
	for _, other := range []byte{';', '\t'} {
		if strings.Count(line, string(other)) > strings.Count(line, string(best)) {
			best = other
		}
	}
	return best
}

// take makes a fix of one line.
func (h *header) take(fields []string, line int, into *gathering) {
	fix := Fix{Line: line, SpeedMS: math.NaN(), HeadingDeg: math.NaN()}
	why := h.position(fields, &fix.At)
	if why == "" {
		why = h.motion(fields, &fix)
	}
	if why == "" {
		why = h.moment(fields, &fix, &into.clock)
	}
	if why == "" {
		why = h.flag(fields, &fix)
	}
	if why != "" {
		into.refuse(line, why)
		return
	}
	into.add(fix)
}

// value is what a line has in a column, empty where it has none.
func (h *header) value(fields []string, c column) string {
	if i := h.place[c]; i >= 0 && i < len(fields) {
		return strings.TrimSpace(fields[i])
	}
	return ""
}

func (h *header) position(fields []string, at *ground.LatLon) (why string) {
	if last := max(h.place[colLat], h.place[colLon]); last >= len(fields) {
		return "the line is cut short: it has " + strconv.Itoa(len(fields)) + " values"
	}
	var latFits, lonFits bool
	at.Lat, latFits = decimal(h.value(fields, colLat))
	at.Lon, lonFits = decimal(h.value(fields, colLon))
	if !latFits {
		return notANumber("latitude", h.value(fields, colLat))
	}
	if !lonFits {
		return notANumber("longitude", h.value(fields, colLon))
	}
	return ""
}

func (h *header) motion(fields []string, fix *Fix) (why string) {
	if text := h.value(fields, colSpeed); text != "" {
		speed, fits := decimal(text)
		if !fits || speed < 0 {
			return notANumber("speed", text)
		}
		fix.SpeedMS = speed * h.speedMS
	}
	if text := h.value(fields, colHeading); text != "" {
		heading, fits := decimal(text)
		if !fits || heading < 0 || heading > 360 {
			return "heading_deg is " + strconv.Quote(shortened(text)) + ", not 0 to 360"
		}
		fix.HeadingDeg = heading
	}
	return ""
}

func (h *header) moment(fields []string, fix *Fix, clock *clock) (why string) {
	text := h.value(fields, colTime)
	if text == "" {
		return ""
	}
	moment, fits := clock.read(text)
	if !fits {
		return notAMoment(text)
	}
	fix.Time = moment
	return ""
}

func (h *header) flag(fields []string, fix *Fix) (why string) {
	text := h.value(fields, colSowing)
	switch {
	case text == "":
	case text == "1", strings.EqualFold(text, "on"), strings.EqualFold(text, "true"):
		fix.Sowing = Sowing
	case text == "0", strings.EqualFold(text, "off"), strings.EqualFold(text, "false"):
		fix.Sowing = Lifted
	default:
		return "sowing is " + strconv.Quote(shortened(text)) + ", not 1 or 0, on or off, true or false"
	}
	return ""
}

// split parts a line at its separators, double quotes removed. It says false when a quote
// is not closed.
func split(line string, separator byte, fields []string) ([]string, bool) {
	if !strings.Contains(line, `"`) {
		for {
			i := strings.IndexByte(line, separator)
			if i < 0 {
				return append(fields, line), true
			}
			fields, line = append(fields, line[:i]), line[i+1:]
		}
	}
	var value strings.Builder
	quoted := false
	for i := 0; i < len(line); i++ {
		switch c := line[i]; {
		case c == '"' && quoted && i+1 < len(line) && line[i+1] == '"':
			value.WriteByte(c)
			i++
		case c == '"':
			quoted = !quoted
		case c == separator && !quoted:
			fields = append(fields, value.String())
			value.Reset()
		default:
			value.WriteByte(c)
		}
	}
	return append(fields, value.String()), !quoted
}

// decimal reads a finite number.
func decimal(text string) (float64, bool) {
	number, err := strconv.ParseFloat(text, 64)
	return number, err == nil && !math.IsNaN(number) && !math.IsInf(number, 0)
}

func notANumber(name, text string) string {
	if text == "" {
		return name + " is empty"
	}
	return name + " is " + strconv.Quote(shortened(text)) + ", not a number"
}

func notAMoment(text string) string {
	return "time is " + strconv.Quote(shortened(text)) + ", not like 2026-07-20T09:30:00Z"
}

// shortened keeps a sentence short when what it quotes is long.
func shortened(text string) string {
	const most = 60
	if len(text) <= most {
		return text
	}
	return text[:most] + "…"
}
