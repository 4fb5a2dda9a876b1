package ground

import "rowtally/internal/fault"

// gpxFormat is GPX 1.0 or 1.1: a route, or an unbroken stretch of a track, that runs round
// the paddock. Each such line is a polygon of its own; GPX knows no holes.
var gpxFormat = format{
	name:     "GPX",
	endings:  []string{".gpx"},
	begins:   func(content []byte) bool { return beginsWith(content, "<") },
	polygons: gpxPolygons,
}

func gpxPolygons(content []byte, mend *mending) (Shape, []string, error) {
	file, err := readGPX(content)
	if err != nil {
		return nil, nil, err
	}
	var g Geometry
	for _, p := range file.points {
		g.Points = append(g.Points, p.at)
	}
	for i, points := range file.lines {
		polygon, err := mend.gpxRing(points)
		if err != nil {
			return nil, nil, inPart("line", i, err)
		}
		g.Polygons = append(g.Polygons, polygon)
	}
	if len(g.Polygons) == 0 {
		return nil, nil, fault.Refuse("", "the file holds %s and no track or route, drive round the paddock and export the track", counted(len(g.Points), "point"))
	}
	notes, err := g.leftOut()
	return g.Polygons, notes, err
}

func (m *mending) gpxRing(points []gpxPoint) (polygon GeoPolygon, err error) {
	line := make([]LatLon, len(points))
	for i, p := range points {
		if line[i], err = m.place(p.at.Lat, p.at.Lon); err != nil {
			return polygon, inPart("point", i, err)
		}
	}
	return polygon, polygon.addRing(m.ring(line))
}
