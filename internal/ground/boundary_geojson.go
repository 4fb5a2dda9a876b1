package ground

import (
	"encoding/json"
	"fmt"
	"strings"

	"rowtally/internal/fault"
)

// geoJSONFormat is GeoJSON, RFC 7946: WGS84, longitude first.
var geoJSONFormat = format{
	name:    "GeoJSON",
	endings: []string{".geojson", ".json"},
	begins:  func(content []byte) bool { return beginsWith(content, "{") },
	reads:   geoJSONGeometry,
}

func geoJSONGeometry(content []byte, mend *mending) (Geometry, []string, error) {
	named, datum, err := geoJSONDatum(content)
	if err != nil {
		return Geometry{}, nil, err
	}
	mend.datum = named
	var whole json.RawMessage
	if err := json.Unmarshal(content, &whole); err != nil {
		return Geometry{}, nil, fault.Refuse("", "the file is not JSON all through (%v), export it again", err)
	}
	g := Geometry{mend: *mend}
	err = g.gather(whole, 0)
	*mend = g.mend
	return g, datum, err
}

// leftOut notes the lines and points beside the polygons, and refuses a file without
// any polygon.
func (g Geometry) leftOut() ([]string, error) {
	var others []string
	if len(g.Lines) > 0 {
		others = append(others, counted(len(g.Lines), "line"))
	}
	if len(g.Points) > 0 {
		others = append(others, counted(len(g.Points), "point"))
	}
	held := strings.Join(others, " and ")
	switch {
	case len(g.Polygons) == 0 && held == "":
		return nil, fault.Refuse("", "there is no polygon in the file, export the paddock's boundary as a polygon")
	case len(g.Polygons) == 0:
		return nil, fault.Refuse("", "the file holds %s and no polygon, export the paddock's boundary as a polygon", held)
	case held == "":
		return nil, nil
	}
	return []string{"left out " + held + ", only polygons are boundaries"}, nil
}

// noteOf says what it means that a file is on another datum than WGS84.
var noteOf = map[Datum]string{
	OnGDA2020: "the file names GDA2020; it is read as WGS84, which agrees to decimetres",
	OnGDA94:   "the file names GDA94; it is shifted to GDA2020 by the published transformation, about 1.8 m",
}

// geoJSONDatum looks at the member "crs" that RFC 7946 took out of the format but many
// programs still write. Degrees on WGS84 and its kin pass; a map grid is refused.
func geoJSONDatum(content []byte) (Datum, []string, error) {
	var head struct {
		CRS struct {
			Properties struct {
				Name string `json:"name"`
			} `json:"properties"`
		} `json:"crs"`
	}
	if json.Unmarshal(content, &head) != nil || head.CRS.Properties.Name == "" {
		return "", nil, nil
	}
	name := head.CRS.Properties.Name
	switch code := strings.ToUpper(name[strings.LastIndexAny(name, ":/")+1:]); code {
	case "CRS84", "4326", "4979":
		return OnWGS84, nil, nil
	case "7844":
		return OnGDA2020, []string{noteOf[OnGDA2020]}, nil
	case "4283":
		return OnGDA94, []string{noteOf[OnGDA94]}, nil
	}
	return "", nil, fault.Refuse("", "%s", fmt.Sprintf("the file is in %s, export it as WGS84 latitude and longitude (EPSG:4326)", name))
}
