package sown

import (
	"strings"

	"rowtally/internal/fault"
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
	colDate
	colLat
	colLon
	colNorth // N or S, beside a latitude without a sign
	colEast  // E or W
	colSpeed
	colHeading
	colSowing
	columnCount
)

// columnName is what a name of a column means.
type columnName struct {
	means  column
	ms     float64 // what a speed is multiplied by
	second bool    // taken only where no column has the first names
}

// columnNames are the recognised names, in lower case.
var columnNames = map[string]columnName{
	"time":        {means: colTime},
	"date":        {means: colDate},
	"lat":         {means: colLat},
	"latitude":    {means: colLat},
	"lon":         {means: colLon},
	"lng":         {means: colLon},
	"longitude":   {means: colLon},
	"n/s":         {means: colNorth},
	"e/w":         {means: colEast},
	"speed_kmh":   {means: colSpeed, ms: msPerKmh},
	"speed_ms":    {means: colSpeed, ms: 1},
	"speed_kn":    {means: colSpeed, ms: msPerKnot},
	"heading_deg": {means: colHeading},
	"sowing":      {means: colSowing},
	"timestamp":   {means: colTime, second: true},
	"datetime":    {means: colTime, second: true},
	"lat_deg":     {means: colLat, second: true},
	"long":        {means: colLon, second: true},
	"lon_deg":     {means: colLon, second: true},
}

// header says where a CSV log has which value.
type header struct {
	separator byte
	place     [columnCount]int // -1 where there is no such column
	speedMS   float64          // metres per second in one unit of the speed column
}

// readCSV reads a table with a header row. Columns stand in any order and case, parted by
// commas, semicolons or tabs; unknown ones are passed over, as are lines that begin with #.
// A quoted value ends on its line.
func readCSV(text string, into *gathering) error {
	var head *header
	var fields []string
	for number, line := range lines(text) {
		if start := strings.TrimSpace(line); start == "" || start[0] == '#' {
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
	for _, second := range []bool{false, true} {
		if err := head.find(names, second); err != nil {
			return nil, err
		}
	}
	if head.place[colLat] < 0 || head.place[colLon] < 0 {
		return nil, fault.Refuse("", "the header %q lacks latitude or longitude, name the columns lat and lon in the first line", shortened(line))
	}
	return &head, nil
}

// find finds the columns of the first names, or of the second.
func (h *header) find(names []string, second bool) error {
	for i, name := range names {
		known := columnNames[strings.ToLower(strings.TrimSpace(name))]
		has := h.place[known.means] >= 0
		switch {
		case known.means == colNone, known.second != second, has && (second || known.means == colSpeed):
			continue
		case has:
			return fault.Refuse("", "the header has the columns %q and %q for one value, leave one of them out", names[h.place[known.means]], name)
		}
		h.place[known.means] = i
		if known.means == colSpeed {
			h.speedMS = known.ms
		}
	}
	return nil
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
