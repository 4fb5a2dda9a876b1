package job

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"strconv"

	"rowtally/internal/ground"
)

// LengthFile is a form in which lengths of row leave the program.
type LengthFile struct {
	Ending string // "geojson"
	Type   string // media type
	Write  func(title string, all []Length) ([]byte, error)
}

// LengthFiles are the open formats that lengths of row leave in.
var LengthFiles = []LengthFile{
	{"geojson", "application/geo+json", lengthsGeoJSON},
	{"kml", "application/vnd.google-earth.kml+xml", lengthsKML},
	{"gpx", "application/gpx+xml", lengthsGPX},
	{"csv", "text/csv; charset=utf-8", lengthsCSV},
}

// degrees writes a latitude or longitude to about a millimetre.
func degrees(v float64) string { return strconv.FormatFloat(v, 'f', 8, 64) }

// millimetres writes a length to a millimetre.
func millimetres(m float64) string { return strconv.FormatFloat(m, 'f', 3, 64) }

type geoFeatures struct {
	Type     string       `json:"type"`
	Name     string       `json:"name"`
	Features []geoFeature `json:"features"`
}

type geoFeature struct {
	Type       string        `json:"type"`
	Properties geoProperties `json:"properties"`
	Geometry   geoLine       `json:"geometry"`
}

type geoProperties struct {
	Row     int         `json:"row"`
	LengthM json.Number `json:"length_m"`
}

type geoLine struct {
	Type        string            `json:"type"`
	Coordinates [2][2]json.Number `json:"coordinates"`
}

// lengthsGeoJSON writes a feature for each length (RFC 7946: WGS 84, longitude first).
func lengthsGeoJSON(title string, all []Length) ([]byte, error) {
	out := geoFeatures{"FeatureCollection", title, []geoFeature{}}
	at := func(p ground.LatLon) [2]json.Number {
		return [2]json.Number{json.Number(degrees(p.Lon)), json.Number(degrees(p.Lat))}
	}
	for _, one := range all {
		out.Features = append(out.Features, geoFeature{"Feature", geoProperties{one.Row, json.Number(millimetres(one.LengthM))},
			geoLine{"LineString", [2][2]json.Number{at(one.From), at(one.To)}}})
	}
	return json.Marshal(out)
}

type kmlFile struct {
	XMLName xml.Name `xml:"http://www.opengis.net/kml/2.2 kml"`
	Name    string   `xml:"Document>name"`
	Rows    []kmlRow `xml:"Document>Placemark"`
}

type kmlRow struct {
	Name  string    `xml:"name"`
	Lines []kmlLine `xml:"MultiGeometry>LineString"`
}

type kmlLine struct {
	Coordinates string `xml:"coordinates"`
}

// lengthsKML writes a placemark for each row (OGC KML 2.2).
func lengthsKML(title string, all []Length) ([]byte, error) {
	out := kmlFile{Name: title}
	for _, row := range byRow(all) {
		mark := kmlRow{Name: rowName(row[0].Row)}
		for _, one := range row {
			mark.Lines = append(mark.Lines, kmlLine{fmt.Sprintf("%s,%s %s,%s", degrees(one.From.Lon), degrees(one.From.Lat), degrees(one.To.Lon), degrees(one.To.Lat))})
		}
		out.Rows = append(out.Rows, mark)
	}
	return asXML(out)
}

func rowName(number int) string { return fmt.Sprintf("row %d", number) }

type gpxFile struct {
	XMLName xml.Name   `xml:"http://www.topografix.com/GPX/1/1 gpx"`
	Version string     `xml:"version,attr"`
	Creator string     `xml:"creator,attr"`
	Name    string     `xml:"metadata>name"`
	Tracks  []gpxTrack `xml:"trk"`
}

type gpxTrack struct {
	Name     string       `xml:"name"`
	Segments []gpxSegment `xml:"trkseg"`
}

type gpxSegment struct {
	Points []gpxPoint `xml:"trkpt"`
}

type gpxPoint struct {
	Lat string `xml:"lat,attr"`
	Lon string `xml:"lon,attr"`
}

// lengthsGPX writes a track for each row, a segment for each of its lengths (GPX 1.1).
func lengthsGPX(title string, all []Length) ([]byte, error) {
	out := gpxFile{Version: "1.1", Creator: "Rowtally", Name: title}
	at := func(p ground.LatLon) gpxPoint { return gpxPoint{degrees(p.Lat), degrees(p.Lon)} }
	for _, row := range byRow(all) {
		track := gpxTrack{Name: rowName(row[0].Row)}
		for _, one := range row {
			track.Segments = append(track.Segments, gpxSegment{[]gpxPoint{at(one.From), at(one.To)}})
		}
		out.Tracks = append(out.Tracks, track)
	}
	return asXML(out)
}

func asXML(v any) ([]byte, error) {
	text, err := xml.MarshalIndent(v, "", " ")
	return append([]byte(xml.Header), text...), err
}

// lengthsCSV writes a line for each length, its columns named in the first.
func lengthsCSV(_ string, all []Length) ([]byte, error) {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.Write([]string{"row", "from_lat", "from_lon", "to_lat", "to_lon", "length_m"})
	for _, one := range all {
		w.Write([]string{strconv.Itoa(one.Row), degrees(one.From.Lat), degrees(one.From.Lon), degrees(one.To.Lat), degrees(one.To.Lon), millimetres(one.LengthM)})
	}
	w.Flush()
	return out.Bytes(), w.Error()
}
