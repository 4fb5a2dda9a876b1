package ground

import (
	"bytes"
	"encoding/xml"
	"io"
	"slices"
	"strconv"
	"strings"

	"rowtally/internal/fault"
)

// kmlFormat is KML 2.x (OGC 12-007): WGS84, longitude first. Names of elements are taken
// without their namespaces, which older files give in many ways.
var kmlFormat = format{
	name:    "KML",
	endings: []string{".kml"},
	begins:  func(content []byte) bool { return beginsWith(content, "<") },
	reads:   kmlGeometry,
}

// deepestElement bounds elements within elements; KML needs a dozen.
const deepestElement = 100

// kmlReader gathers the geometries of a KML text as its elements open and close.
type kmlReader struct {
	Geometry
	mending *mending
	open    []string // names of the open elements
	polygon *GeoPolygon
	track   []LatLon        // of the open track
	text    strings.Builder // of the open coordinates
	isKML   bool
}

func kmlGeometry(content []byte, mend *mending) (Geometry, []string, error) {
	r := kmlReader{mending: mend}
	if err := eachToken(content, r.take); err != nil {
		return Geometry{}, nil, err
	}
	if !r.isKML {
		return Geometry{}, nil, fault.Refuse("", "the file is XML but not KML, export the boundary as KML")
	}
	return r.Geometry, nil, nil
}

// take follows one token.
func (r *kmlReader) take(token xml.Token) error {
	switch t := token.(type) {
	case xml.StartElement:
		return r.begin(t.Name.Local)
	case xml.CharData:
		if r.within("coordinates") || r.within("coord") {
			r.text.Write(t)
		}
	case xml.EndElement:
		return r.end(t.Name.Local)
	}
	return nil
}

func (r *kmlReader) begin(name string) error {
	if len(r.open) == deepestElement {
		return fault.Refuse("", "the file has elements more than %d deep and is no KML, export it again", deepestElement)
	}
	r.open = append(r.open, name)
	switch name {
	case "kml", "Placemark", "Document":
		r.isKML = true
	case "Polygon":
		r.polygon = &GeoPolygon{}
	case "Track":
		r.track = nil
	case "coordinates", "coord":
		r.text.Reset()
	}
	return nil
}

// end closes the element, and with it those left open inside.
func (r *kmlReader) end(name string) error {
	var err error
	switch {
	case name == "coordinates" && r.within("coordinates"):
		err = r.place()
	case name == "coord" && r.within("Track"):
		err = r.placeOfTrack()
	case name == "Track" && len(r.track) > 0:
		r.addLine(r.track)
		r.track = nil
	case name == "Polygon" && r.polygon != nil:
		err = r.closePolygon()
	}
	for i := len(r.open) - 1; i >= 0; i-- {
		if r.open[i] == name {
			r.open = r.open[:i]
			break
		}
	}
	return err
}

func (r *kmlReader) closePolygon() error {
	polygon := r.polygon
	r.polygon = nil
	if len(polygon.Outer) == 0 {
		return inPart("polygon", len(r.Polygons), fault.Refuse("", "it has no outside, export the file again"))
	}
	r.Polygons = append(r.Polygons, *polygon)
	return nil
}

// within tells whether an element of a name is open.
func (r *kmlReader) within(name string) bool { return slices.Contains(r.open, name) }

// place puts coordinates that ended where their element belongs.
func (r *kmlReader) place() error {
	line, err := r.mending.tuples(r.text.String())
	switch {
	case err != nil:
		return inPart("polygon", len(r.Polygons), err)
	case r.polygon != nil && r.within("innerBoundaryIs") && len(r.polygon.Outer) == 0:
		return inPart("polygon", len(r.Polygons), fault.Refuse("", "a hole comes before the outside, export the file again"))
	case r.polygon != nil:
		if err := r.polygon.addRing(r.mending.ring(line)); err != nil {
			return inPart("polygon", len(r.Polygons), inPart("ring", r.polygon.rings(), err))
		}
	default:
		r.addLine(line)
	}
	return nil
}

// addLine adds a line, or the point that one place alone is.
func (r *kmlReader) addLine(line []LatLon) {
	if len(line) == 1 {
		r.Points = append(r.Points, line[0])
		return
	}
	r.Lines = append(r.Lines, line)
}

// placeOfTrack takes one place of a track (KML 2.3, and before it an extension of 2.2):
// longitude, latitude and perhaps a height, with blanks between. Where reception was lost it
// is empty.
func (r *kmlReader) placeOfTrack() error {
	parts := strings.Fields(r.text.String())
	if len(parts) == 0 {
		return nil
	}
	places, err := r.mending.tuples(strings.Join(parts, ","))
	if err != nil {
		return inPart("line", len(r.Lines), inPart("place", len(r.track), err))
	}
	r.track = append(r.track, places...)
	return nil
}

func (p *GeoPolygon) rings() int {
	if len(p.Outer) == 0 {
		return 0
	}
	return 1 + len(p.Holes)
}

// tuples reads "lon,lat[,height] lon,lat[,height] …"; blanks beside the commas,
// which the standard forbids, are passed over.
func (m *mending) tuples(text string) ([]LatLon, error) {
	var line []LatLon
	for i, tuple := range strings.Fields(joinCommas(text)) {
		parts := strings.Split(tuple, ",")
		if len(parts) < 2 {
			return nil, inPart("corner", i, fault.Refuse("", "%q is not a longitude and a latitude with a comma between them", tuple))
		}
		lon, lonErr := strconv.ParseFloat(parts[0], 64)
		lat, latErr := strconv.ParseFloat(parts[1], 64)
		if lonErr != nil || latErr != nil {
			return nil, inPart("corner", i, fault.Refuse("", "%q is not a longitude and a latitude in degrees", tuple))
		}
		place, err := m.place(lat, lon)
		if err != nil {
			return nil, inPart("corner", i, err)
		}
		line = append(line, place)
	}
	return line, nil
}

// joinCommas takes out the white space before and after commas.
func joinCommas(text string) string {
	parts := strings.Split(text, ",")
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	return strings.Join(parts, ",")
}

// asciiReader passes the ASCII of any one-byte encoding on: element names and digits are
// ASCII in all of them, and nothing else matters here.
func asciiReader(_ string, input io.Reader) (io.Reader, error) {
	content, err := io.ReadAll(input)
	for i, b := range content {
		if b >= 0x80 {
			content[i] = '?'
		}
	}
	return bytes.NewReader(content), err
}
