package ground

import "rowtally/internal/fault"

// gpxFormat is GPX 1.0 or 1.1: a route, or an unbroken stretch of a track, that runs round
// the paddock. Each such line is a polygon of its own; GPX knows no holes. Among no-go areas
// it is what its reader is told that it is.
var gpxFormat = format{
	name:    "GPX",
	endings: []string{".gpx"},
	begins:  func(content []byte) bool { return beginsWith(content, "<") },
	reads:   gpxGeometry,
}

func gpxGeometry(content []byte, mend *mending) (g Geometry, notes []string, err error) {
	file, err := readGPX(content)
	if err != nil {
		return g, nil, err
	}
	if g.Points, err = mend.gpxPlaces(file.points); err != nil {
		return g, nil, err
	}
	for i, points := range file.lines {
		places, err := mend.gpxPlaces(points)
		if err == nil {
			err = mend.list(&g, places)
		}
		if err != nil {
			return g, nil, inPart("line", i, err)
		}
	}
	if mend.lists == listsOneRing && len(g.Polygons) == 0 {
		return g, nil, fault.Refuse("", "the file holds %s and no track or route, drive round the paddock and export the track", counted(len(g.Points), "point"))
	}
	return g, nil, nil
}

func (m *mending) gpxPlaces(points []gpxPoint) (places []LatLon, err error) {
	for i, p := range points {
		place, err := m.place(p.at.Lat, p.at.Lon)
		if err != nil {
			return nil, inPart("point", i, err)
		}
		places = append(places, place)
	}
	return places, nil
}
