package ground

import (
	"archive/zip"
	"encoding/binary"
	"math"

	"rowtally/internal/fault"
)

// shapefileFormat is a zipped ESRI shapefile: its .shp with the .prj that says what its
// figures are. Attributes are not read.
// Source: ESRI Shapefile Technical Description, July 1998.
var shapefileFormat = format{
	name:    "zipped shapefile",
	endings: []string{".zip"},
	begins:  isZip,
	reads:   shapefileGeometry,
}

func shapefileGeometry(content []byte, mend *mending) (g Geometry, notes []string, err error) {
	shp, prj, err := shapefileParts(content)
	if err != nil {
		return g, nil, err
	}
	system, err := readPRJ(string(UTF8(prj)))
	if err != nil {
		return g, nil, err
	}
	mend.datum = system.datum
	shapes, err := readSHP(shp)
	if err != nil {
		return g, nil, err
	}
	if system.note != "" {
		notes = []string{system.note}
	}
	g, err = mend.onEarth(shapes, system)
	return g, notes, err
}

// onEarth brings the shapes of a file onto the earth.
func (m *mending) onEarth(shapes shpShapes, system crs) (g Geometry, err error) {
	if g.Polygons, err = m.shapeOf(shapes.rings, system); err != nil {
		return g, err
	}
	for i, line := range shapes.lines {
		places, err := m.earthLine(line, system)
		if err != nil {
			return g, inPart("line", i, err)
		}
		g.Lines = append(g.Lines, places)
	}
	if len(shapes.points) > 0 {
		g.Points, err = m.earthLine(shapes.points, system)
	}
	return g, err
}

// shapefileParts takes the one .shp of a zip and its .prj.
func shapefileParts(content []byte) (shp, prj []byte, err error) {
	files, err := zipped(content)
	if err != nil {
		return nil, nil, err
	}
	found := map[string][]*zip.File{}
	for _, f := range files {
		found[ending(f)] = append(found[ending(f)], f)
	}
	switch {
	case len(found[".shp"]) == 0:
		return nil, nil, fault.Refuse("", "the zip holds no .shp, zip the shapefile with all its parts")
	case len(found[".shp"]) > 1:
		return nil, nil, fault.Refuse("", "the zip holds %d shapefiles, zip the paddock's alone", len(found[".shp"]))
	case len(found[".prj"]) != 1:
		return nil, nil, fault.Refuse("", "the zip holds %d .prj files and needs the one of its shapefile: without it nobody knows what the figures are", len(found[".prj"]))
	}
	if shp, err = unzip(found[".shp"][0]); err != nil {
		return nil, nil, err
	}
	prj, err = unzip(found[".prj"][0])
	return shp, prj, err
}

// The shape types that are read. Each has two more, ten and twenty higher, with heights or
// measures after what is read here.
const (
	shpNull       = 0
	shpPoint      = 1
	shpLine       = 3
	shpPolygon    = 5
	shpMultiPoint = 8
	shpPatches    = 31 // surfaces: not read
)

const shpHeader = 100

// shpShapes are the closed rings of every polygon, the parts of every line, and every
// point of a .shp, in figures of the file.
type shpShapes struct {
	rings, lines [][]Point
	points       []Point
}

func readSHP(file []byte) (s shpShapes, err error) {
	if len(file) < shpHeader || binary.BigEndian.Uint32(file) != 9994 {
		return s, fault.Refuse("", "the .shp does not begin as one, export the shapefile again")
	}
	end := 2 * int64(binary.BigEndian.Uint32(file[24:])) // as the head tells it, which writers get wrong
	for rest := file[shpHeader:]; len(rest) > 0; {
		record, whole := shpRecord(rest)
		if behind := int64(len(file)-len(rest)) >= end; !whole && end > 0 && behind {
			break // other bytes that a writer left behind the end
		}
		if !whole {
			return s, cutShort()
		}
		if err := s.add(record); err != nil {
			return s, err
		}
		rest = rest[8+len(record):]
	}
	return s, nil
}

// shpRecord is the content of the first record; whole is false where it is no record, or cut.
func shpRecord(rest []byte) (record []byte, whole bool) {
	if len(rest) < 12 {
		return nil, false
	}
	words := int64(int32(binary.BigEndian.Uint32(rest[4:])))
	if words < 2 || 2*words > int64(len(rest)-8) {
		return nil, false
	}
	return rest[8 : 8+2*words], true
}

// add adds the shape of one record.
func (s *shpShapes) add(record []byte) (err error) {
	kind := binary.LittleEndian.Uint32(record)
	if kind > 10 && kind%10 != 0 && kind < shpPatches {
		kind %= 10
	}
	var more [][]Point
	switch kind {
	case shpNull:
	case shpPoint:
		more, err = shpPlaces(record, 4, 1)
		s.points = append(s.points, flattened(more)...)
	case shpMultiPoint:
		more, err = shpMany(record)
		s.points = append(s.points, flattened(more)...)
	case shpLine:
		more, err = shpParts(record)
		s.lines = append(s.lines, more...)
	case shpPolygon:
		more, err = shpParts(record)
		s.rings = append(s.rings, more...)
	default:
		return fault.Refuse("", "the shapefile holds shapes of kind %d, export it as polygons, lines or points", kind)
	}
	switch {
	case err != nil:
		return err
	case len(s.rings)+len(s.lines) > MostRings:
		return fault.Refuse("", "the shapefile has more than %d outsides, holes and lines, export the paddock alone", MostRings)
	case len(s.points) > MostCorners:
		return fault.Refuse("", "the shapefile has more than %d points, export the paddock's alone", MostCorners)
	}
	return nil
}

func flattened(lists [][]Point) (points []Point) {
	for _, list := range lists {
		points = append(points, list...)
	}
	return points
}

// shpPlaces reads so many pairs of figures from a place of the record on.
func shpPlaces(record []byte, from, count int64) ([][]Point, error) {
	if from+16*count > int64(len(record)) {
		return nil, cutShort()
	}
	places := make([]Point, count)
	for i := range places {
		at := record[from+16*int64(i):]
		places[i] = Point{float(at), float(at[8:])}
	}
	return [][]Point{places}, nil
}

// shpMany reads the places of one record of several points.
func shpMany(record []byte) ([][]Point, error) {
	const head = 40 // type, box, count of points
	if len(record) < head {
		return nil, cutShort()
	}
	return shpPlaces(record, head, int64(binary.LittleEndian.Uint32(record[36:])))
}

func cutShort() error {
	return fault.Refuse("", "the .shp is cut short or damaged, export the shapefile again")
}

// shpParts reads the rings of one polygon record, or the parts of one line record.
func shpParts(record []byte) ([][]Point, error) {
	const head = 44 // type, box, counts of parts and points
	if len(record) < head {
		return nil, cutShort()
	}
	parts, points := int64(binary.LittleEndian.Uint32(record[36:])), int64(binary.LittleEndian.Uint32(record[40:]))
	if head+4*parts+16*points > int64(len(record)) || parts > MostRings || points > 2*MostCorners {
		return nil, cutShort()
	}
	at := func(i int64) int64 {
		if i == parts {
			return points
		}
		return int64(binary.LittleEndian.Uint32(record[head+4*i:]))
	}
	xy := record[head+4*parts:]
	rings := make([][]Point, 0, parts)
	for i := range parts {
		from, to := at(i), at(i+1)
		if from > to || to > points {
			return nil, cutShort()
		}
		ring := make([]Point, 0, to-from)
		for p := from; p < to; p++ {
			ring = append(ring, Point{float(xy[16*p:]), float(xy[16*p+8:])})
		}
		rings = append(rings, ring)
	}
	return rings, nil
}

func float(b []byte) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(b)) }
