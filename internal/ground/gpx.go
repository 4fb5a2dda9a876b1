package ground

import (
	"encoding/xml"
	"slices"
	"strconv"
	"strings"

	"rowtally/internal/fault"
)

// gpxPoint is one point of a GPX file; its height is nil where it tells none.
type gpxPoint struct {
	at      LatLon
	heightM *float64
}

// gpxFile is what a GPX file (Topografix GPX 1.0 or 1.1, WGS84) holds: single points,
// and lines, each a route or one unbroken stretch of a track.
type gpxFile struct {
	points []gpxPoint
	lines  [][]gpxPoint
	isGPX  bool

	open  []string
	point *gpxPoint
	text  strings.Builder // of the open height
}

func readGPX(content []byte) (gpxFile, error) {
	var g gpxFile
	if err := eachToken(content, g.take); err != nil {
		return g, err
	}
	if !g.isGPX {
		return g, fault.Refuse("", "the file is XML but not GPX, export it as GPX")
	}
	return g, nil
}

func (g *gpxFile) take(token xml.Token) error {
	switch t := token.(type) {
	case xml.StartElement:
		return g.begin(t)
	case xml.CharData:
		if g.point != nil && len(g.open) > 0 && g.open[len(g.open)-1] == "ele" {
			g.text.Write(t)
		}
	case xml.EndElement:
		return g.end(t.Name.Local)
	}
	return nil
}

func (g *gpxFile) begin(element xml.StartElement) error {
	if len(g.open) == deepestElement {
		return fault.Refuse("", "the file has elements more than %d deep and is no GPX, export it again", deepestElement)
	}
	name := element.Name.Local
	g.open = append(g.open, name)
	switch name {
	case "gpx":
		g.isGPX = true
	case "rte", "trkseg":
		g.lines = append(g.lines, nil)
	case "wpt", "rtept", "trkpt":
		return g.beginPoint(element.Attr)
	case "ele":
		g.text.Reset()
	}
	return nil
}

func (g *gpxFile) beginPoint(attributes []xml.Attr) error {
	figures := map[string]float64{}
	for _, a := range attributes {
		if v, err := strconv.ParseFloat(strings.TrimSpace(a.Value), 64); err == nil {
			figures[a.Name.Local] = v
		}
	}
	lat, hasLat := figures["lat"]
	lon, hasLon := figures["lon"]
	if !hasLat || !hasLon {
		return fault.Refuse("", "a point of the file has no latitude or longitude in degrees, export it again")
	}
	g.point = &gpxPoint{at: LatLon{lat, lon}}
	return nil
}

// end closes the element, and with it those left open inside.
func (g *gpxFile) end(name string) error {
	if !slices.Contains(g.open, name) {
		return nil
	}
	for i := len(g.open) - 1; i >= 0; i-- {
		if g.open[i] == name {
			g.open = g.open[:i]
			break
		}
	}
	switch {
	case g.point == nil:
	case name == "ele":
		height, err := strconv.ParseFloat(strings.TrimSpace(g.text.String()), 64)
		if err != nil {
			return fault.Refuse("", "the height %q is not a number of metres, export the file again", shortened(g.text.String()))
		}
		g.point.heightM = &height
	case name == "wpt":
		g.points, g.point = append(g.points, *g.point), nil
	case name == "rtept" || name == "trkpt":
		if len(g.lines) == 0 {
			g.lines = append(g.lines, nil)
		}
		last := len(g.lines) - 1
		g.lines[last], g.point = append(g.lines[last], *g.point), nil
	}
	return nil
}

// shortened is so much of a text as a sentence may quote.
func shortened(text string) string { return text[:min(len(text), 40)] }

// gpxHeights are the heights of every point that has one.
func gpxHeights(content []byte) ([]Height, error) {
	file, err := readGPX(content)
	if err != nil {
		return nil, err
	}
	var heights []Height
	for _, points := range append([][]gpxPoint{file.points}, file.lines...) {
		for _, p := range points {
			if p.heightM != nil {
				heights = append(heights, Height{p.at, *p.heightM})
			}
		}
	}
	return heights, nil
}
