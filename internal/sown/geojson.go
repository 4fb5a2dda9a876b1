package sown

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"math"
	"strconv"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

// deepestNesting bounds collections within collections.
const deepestNesting = 8

// geojsonReader finds the lines of a GeoJSON text and the line of the file on which each
// position ends.
type geojsonReader struct {
	into    *gathering
	text    string
	json    *json.Decoder
	line    int // of the file, at offset
	offset  int // up to where line ends were counted
	strange string
}

// readGeoJSON reads each LineString, and each line of a MultiLineString, as a track of
// its own: alone, in a Feature, or in a collection. Other geometries are passed over.
func readGeoJSON(text string, into *gathering) error {
	r := geojsonReader{into: into, text: text, line: 1, json: json.NewDecoder(strings.NewReader(text))}
	if err := r.value(0); err != nil {
		if fault.KindOf(err) == fault.Refused {
			return err
		}
		return fault.Refuse("", "the log is not GeoJSON, near line %d: %v", r.lineAt(int(r.json.InputOffset())), err)
	}
	if len(into.fixes)+len(into.refused) == 0 && r.strange != "" {
		return fault.Refuse("", "the log holds a %s, give a LineString or a MultiLineString", r.strange)
	}
	return nil
}

// coordinates are the text of a geometry's positions and where it starts in the file.
type coordinates struct {
	raw   json.RawMessage
	start int
}

// value reads one GeoJSON object.
func (r *geojsonReader) value(depth int) error {
	if depth > deepestNesting {
		return fault.Refuse("", "the GeoJSON holds collections more than %d deep, take the inner ones out", deepestNesting)
	}
	token, err := r.json.Token()
	if err != nil || token == nil {
		return err
	}
	if token != json.Delim('{') {
		return fault.Refuse("", "the log is JSON but no GeoJSON object, give a LineString or a MultiLineString")
	}
	kind, at := "", coordinates{}
	for r.json.More() {
		key, err := r.json.Token()
		if err != nil {
			return err
		}
		if err := r.member(key, &kind, &at, depth); err != nil {
			return err
		}
	}
	if _, err := r.json.Token(); err != nil {
		return err
	}
	return r.geometry(kind, at)
}

// member reads the value of one key of an object.
func (r *geojsonReader) member(key json.Token, kind *string, at *coordinates, depth int) error {
	switch key {
	case "type":
		return r.json.Decode(kind)
	case "coordinates":
		err := r.json.Decode(&at.raw)
		at.start = int(r.json.InputOffset()) - len(at.raw)
		return err
	case "geometry":
		return r.value(depth + 1)
	case "features", "geometries":
		return r.list(depth + 1)
	}
	var passed json.RawMessage
	return r.json.Decode(&passed)
}

func (r *geojsonReader) list(depth int) error {
	if token, err := r.json.Token(); err != nil || token != json.Delim('[') {
		return errors.Join(err, fault.Refuse("", "a collection of the GeoJSON is no list, export the log again"))
	}
	for r.json.More() {
		if err := r.value(depth); err != nil {
			return err
		}
	}
	_, err := r.json.Token()
	return err
}

// geometry reads the positions of the two kinds that are tracks.
func (r *geojsonReader) geometry(kind string, at coordinates) error {
	switch kind {
	case "LineString":
		return r.positions(at)
	case "MultiLineString":
		return each(at, r.positions)
	case "Feature", "FeatureCollection", "GeometryCollection":
	default:
		r.strange = cmp.Or(kind, "JSON object without a type")
	}
	return nil
}

// positions makes a track of a list of positions.
func (r *geojsonReader) positions(at coordinates) error {
	next := Apart
	return each(at, func(one coordinates) error {
		line := r.lineAt(one.start)
		var position []float64
		if err := json.Unmarshal(one.raw, &position); err != nil || len(position) < 2 {
			r.into.refuse(line, strconv.Quote(shortened(string(one.raw)))+" is no position, which is a longitude and a latitude")
			return nil
		}
		before := len(r.into.fixes)
		r.into.add(Fix{Line: line, At: ground.LatLon{Lat: position[1], Lon: position[0]},
			SpeedMS: math.NaN(), HeadingDeg: notGiven, Link: next})
		if len(r.into.fixes) > before {
			next = Joined
		}
		return nil
	})
}

// each hands on the members of a JSON list, each with its place in the file.
func each(list coordinates, take func(coordinates) error) error {
	inner := json.NewDecoder(bytes.NewReader(list.raw))
	if token, err := inner.Token(); err != nil || token != json.Delim('[') {
		return fault.Refuse("", "the coordinates are not nested the way GeoJSON has them, export the log again")
	}
	for inner.More() {
		var member json.RawMessage
		if err := inner.Decode(&member); err != nil {
			return err
		}
		if err := take(coordinates{member, list.start + int(inner.InputOffset()) - len(member)}); err != nil {
			return err
		}
	}
	return nil
}

// lineAt is the line of the file at an offset. Offsets are asked for in rising order, so
// the whole text is counted once.
func (r *geojsonReader) lineAt(offset int) int {
	offset = min(offset, len(r.text))
	if offset > r.offset {
		r.line += strings.Count(r.text[r.offset:offset], "\n")
		r.offset = offset
	}
	return r.line
}
