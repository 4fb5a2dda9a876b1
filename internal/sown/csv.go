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
