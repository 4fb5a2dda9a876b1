package sown

import (
	"encoding/xml"
	"io"
	"math"
	"strings"

	"rowtally/internal/fault"
)

// gpxReader follows the elements of a GPX file by their local names, so that a missing
// or strange namespace does not matter.
type gpxReader struct {
	into    *gathering
	xml     *xml.Decoder
	next    Link   // how the next track point follows on the one before it
	point   *Fix   // the track point that is open
	why     string // why it cannot be used
	inside  string // the element of the point that is open
	strange int    // waypoints and route points
	isKML   bool
}

// readGPX reads the track points of GPX 1.1 or 1.0, with their times and speeds where
// they have them. A file that breaks off is read up to there.
func readGPX(text string, into *gathering) error {
	r := gpxReader{into: into, next: Apart}
	r.xml = xml.NewDecoder(strings.NewReader(strings.ToValidUTF8(text, "")))
	r.xml.Strict = false
	// Whatever is declared, the text is UTF-8 by now or differs from it in names alone.
	r.xml.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil }
	for {
		token, err := r.xml.RawToken()
		if err == io.EOF {
			break
		}
		if err != nil {
			line, _ := r.xml.InputPos()
			into.refuse(line, "the file breaks off here: "+err.Error())
			break
		}
		r.take(token)
	}
	switch nothing := len(into.fixes)+len(into.refused) == 0; {
	case nothing && r.isKML:
		return fault.Refuse("", "the file is KML, export the track that was logged as GPX")
	case nothing && r.strange > 0:
		return fault.Refuse("", "the file holds %d waypoints or route points but no track, export the track that was logged", r.strange)
	}
	return nil
}

func (r *gpxReader) take(token xml.Token) {
	switch t := token.(type) {
	case xml.StartElement:
		r.open(t)
	case xml.EndElement:
		r.close(t.Name.Local)
	case xml.CharData:
		if text := strings.TrimSpace(string(t)); r.point != nil && r.inside != "" && text != "" {
			r.read(text)
		}
	}
}

func (r *gpxReader) open(element xml.StartElement) {
	switch name := element.Name.Local; name {
	case "trk":
		r.next = Apart
	case "trkseg":
		r.next = max(r.next, Lost)
	case "trkpt":
		r.openPoint(element.Attr)
	case "wpt", "rtept":
		r.strange++
	case "kml":
		r.isKML = true
	case "time", "speed", "course":
		r.inside = name
	default:
		r.inside = ""
	}
}

func (r *gpxReader) openPoint(attributes []xml.Attr) {
	line, _ := r.xml.InputPos()
	point := Fix{Line: line, SpeedMS: math.NaN(), HeadingDeg: notGiven, Link: r.next}
	r.point, r.why, r.inside = &point, "", ""
	lat, lon := "", ""
	for _, a := range attributes {
		switch a.Name.Local {
		case "lat":
			lat = strings.TrimSpace(a.Value)
		case "lon":
			lon = strings.TrimSpace(a.Value)
		}
	}
	var latFits, lonFits bool
	point.At.Lat, latFits = decimal(lat)
	point.At.Lon, lonFits = decimal(lon)
	if !latFits {
		r.why = notANumber("lat", lat)
	} else if !lonFits {
		r.why = notANumber("lon", lon)
	}
}

// read takes the text of an element of the open point.
func (r *gpxReader) read(text string) {
	switch r.inside {
	case "time":
		moment, fits := r.into.clock.read(text)
		if r.point.Time = moment; !fits && r.why == "" {
			r.why = notAMoment(text)
		}
	case "speed":
		if speed, fits := decimal(text); fits && speed >= 0 {
			r.point.SpeedMS = speed
		}
	case "course":
		if heading, fits := decimal(text); fits && heading >= 0 && heading <= 360 {
			r.point.HeadingDeg = float32(heading)
		}
	}
}

func (r *gpxReader) close(name string) {
	r.inside = ""
	if name != "trkpt" || r.point == nil {
		return
	}
	if r.why != "" {
		r.into.refuse(r.point.Line, r.why)
	} else {
		r.into.add(*r.point)
		r.next = Joined
	}
	r.point = nil
}
