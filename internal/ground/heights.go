package ground

import (
	"encoding/csv"
	"math"
	"strconv"
	"strings"

	"rowtally/internal/fault"
)

// Height is a measured height at a place, in metres above any one level.
type Height struct {
	At      LatLon
	HeightM float64
}

// MostHeights is the most heights that are read.
const MostHeights = 100_000

// ReadHeights reads heights from lines of "lat, lon, height", from a CSV whose header
// names its columns, or from a GPX file's points with <ele>. Notes say what was read.
func ReadHeights(name string, content []byte) ([]Height, []string, error) {
	if err := checkSize(content); err != nil {
		return nil, nil, err
	}
	text := UTF8(content)
	var heights []Height
	var err error
	if beginsWith(text, "<") {
		heights, err = gpxHeights(text)
	} else {
		heights, err = csvHeights(string(text))
	}
	switch {
	case err != nil:
		return nil, nil, err
	case len(heights) == 0:
		return nil, nil, fault.Refuse("", "there is no height in it, give lines of latitude, longitude and height, or a GPX file whose points have a height")
	case len(heights) > MostHeights:
		return nil, nil, fault.Refuse("", "there are %d heights, at most %d are taken; thin them out first", len(heights), MostHeights)
	}
	for i, h := range heights {
		if err := h.check(); err != nil {
			return nil, nil, inPart("height", i, err)
		}
	}
	return heights, []string{"read " + counted(len(heights), "height")}, nil
}

// lowest and highest are the Dead Sea's shore and Everest's top, rounded outward.
func (h Height) check() error {
	const lowestM, highestM = -500, 9000
	if !(h.HeightM >= lowestM && h.HeightM <= highestM) {
		return fault.Refuse("", "%v m is no height on land, enter metres", h.HeightM)
	}
	return h.At.Check()
}

// columns are where a CSV keeps what is read of it.
type columns struct{ lat, lon, height int }

// csvHeights reads lines of three figures, or the columns that a header names.
func csvHeights(text string) ([]Height, error) {
	rows := cells(text)
	if len(rows) == 0 {
		return nil, nil
	}
	at := columns{0, 1, 2}
	if _, err := strconv.ParseFloat(rows[0].cells[0], 64); err != nil {
		if at, err = headed(rows[0].cells); err != nil {
			return nil, err
		}
		rows = rows[1:]
	}
	var heights []Height
	for _, row := range rows {
		h, err := row.height(at)
		if err != nil {
			return nil, err
		}
		heights = append(heights, h)
	}
	return heights, nil
}

// cellRow is one line of a text with its number and its cells.
type cellRow struct {
	line  int
	cells []string
}

// cells parts a text into lines and cells, at commas, semicolons or tabs, or at blanks
// where there is none of these. Empty lines are passed over.
func cells(text string) (rows []cellRow) {
	number := 0
	for line := range strings.Lines(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text)) {
		number++
		if line = strings.TrimSpace(line); line != "" {
			rows = append(rows, cellRow{number, cellsOf(line)})
		}
	}
	return rows
}

func cellsOf(line string) []string {
	at := strings.IndexAny(line, "\t;,")
	if at < 0 {
		return strings.Fields(line)
	}
	reader := csv.NewReader(strings.NewReader(line))
	reader.Comma, reader.LazyQuotes, reader.TrimLeadingSpace = rune(line[at]), true, true
	parted, err := reader.Read()
	if err != nil {
		return []string{line}
	}
	for i := range parted {
		parted[i] = strings.TrimSpace(parted[i])
	}
	return parted
}

// headings are the names under which columns are recognised, in small letters.
var headings = map[string][]string{
	"latitude":  {"lat", "latitude", "lat_deg", "y"},
	"longitude": {"lon", "lng", "long", "longitude", "lon_deg", "x"},
	"height":    {"height", "height_m", "elevation", "elevation_m", "ele", "elev", "altitude", "alt", "z"},
}

func headed(header []string) (columns, error) {
	at, err := placeColumns(header)
	if err != nil {
		return columns{}, err
	}
	at.height = columnOf(header, "height")
	if at.height < 0 {
		return columns{}, fault.Refuse("", "no column is called height, name it so in the first line")
	}
	return at, nil
}

func placeColumns(header []string) (columns, error) {
	at := columns{columnOf(header, "latitude"), columnOf(header, "longitude"), -1}
	switch {
	case at.lat < 0:
		return at, fault.Refuse("", "no column is called latitude, name it so in the first line, or give figures alone: latitude, then longitude")
	case at.lon < 0:
		return at, fault.Refuse("", "no column is called longitude, name it so in the first line, or give figures alone: latitude, then longitude")
	}
	return at, nil
}

func columnOf(header []string, what string) int {
	for i, cell := range header {
		for _, name := range headings[what] {
			if strings.EqualFold(cell, name) {
				return i
			}
		}
	}
	return -1
}

func (r cellRow) height(at columns) (Height, error) {
	var figures [3]float64
	for i, column := range []int{at.lat, at.lon, at.height} {
		v, err := r.figure(column, [...]string{"latitude", "longitude", "height"}[i])
		if err != nil {
			return Height{}, err
		}
		figures[i] = v
	}
	return Height{LatLon{figures[0], figures[1]}, figures[2]}, nil
}

func (r cellRow) figure(column int, what string) (float64, error) {
	if column >= len(r.cells) {
		return 0, fault.Refuse("", "line %d has no %s: it holds %s", r.line, what, counted(len(r.cells), "figure"))
	}
	v, err := strconv.ParseFloat(r.cells[column], 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fault.Refuse("", "line %d: the %s %q is not a number, enter it as -36.40123", r.line, what, shortened(r.cells[column]))
	}
	return v, nil
}
