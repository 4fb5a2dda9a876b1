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
	name:     "zipped shapefile",
	endings:  []string{".zip"},
	begins:   isZip,
	polygons: shapefilePolygons,
}

func shapefilePolygons(content []byte, mend *mending) (Shape, []string, error) {
	shp, prj, err := shapefileParts(content)
	if err != nil {
		return nil, nil, err
	}
	system, err := readPRJ(string(UTF8(prj)))
	if err != nil {
		return nil, nil, err
	}
	mend.datum = system.datum
	rings, others, err := readSHP(shp)
	if err != nil {
		return nil, nil, err
	}
	if len(rings) == 0 {
		return nil, nil, fault.Refuse("", "the shapefile holds %s and no polygon, export the paddock's boundary as a polygon", counted(others, "other shape"))
	}
	shape, err := mend.shapeOf(rings, system)
	if err != nil || system.note == "" {
		return shape, nil, err
	}
	return shape, []string{system.note}, nil
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

// The shape types that are read: polygons, with heights or measures too.
const (
	shpPolygon  = 5
	shpPolygonZ = 15
	shpPolygonM = 25
)

const shpHeader = 100

// readSHP reads the closed rings of every polygon, in figures of the file, and counts
// what is no polygon.
func readSHP(file []byte) (rings [][]Point, others int, err error) {
	if len(file) < shpHeader || binary.BigEndian.Uint32(file) != 9994 {
		return nil, 0, fault.Refuse("", "the .shp does not begin as one, export the shapefile again")
	}
	for rest := file[shpHeader:]; len(rest) > 0; {
		if len(rest) < 12 {
			return nil, 0, cutShort()
		}
		words := int64(int32(binary.BigEndian.Uint32(rest[4:])))
		if words < 2 || 2*words > int64(len(rest)-8) {
			return nil, 0, cutShort()
		}
		record := rest[8 : 8+2*words]
		rest = rest[8+2*words:]
		switch binary.LittleEndian.Uint32(record) {
		case 0: // a record without a shape
		case shpPolygon, shpPolygonZ, shpPolygonM:
			more, err := polygonRings(record)
			if err != nil {
				return nil, 0, err
			}
			if rings = append(rings, more...); len(rings) > MostRings {
				return nil, 0, fault.Refuse("", "the shapefile has more than %d outsides and holes, export the paddock alone", MostRings)
			}
		default:
			others++
		}
	}
	return rings, others, nil
}

func cutShort() error {
	return fault.Refuse("", "the .shp is cut short or damaged, export the shapefile again")
}

// polygonRings reads the rings of one polygon record.
func polygonRings(record []byte) ([][]Point, error) {
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
