package ground

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"rowtally/internal/fault"
)

// crs is what a .prj file says that figures are: degrees on a datum, metres of a zone, or
// metres of the Mercator projection of web maps.
type crs struct {
	datum  Datum
	zone   *Zone // nil for degrees
	webMap bool
	note   string
}

// toEarth turns a pair of figures of the file into latitude and longitude. Source for web
// maps: IOGP Guidance Note 7-2, method 1024 (Popular Visualisation Pseudo-Mercator).
func (c crs) toEarth(x, y float64) (lat, lon float64) {
	if c.webMap {
		return math.Atan(math.Sinh(y/WGS84.EquatorialM)) / degree, x / WGS84.EquatorialM / degree
	}
	if c.zone == nil {
		return y, x
	}
	place := c.zone.Grid().ToEarth(Point{x, y})
	return place.Lat, place.Lon
}

// wkt is one node of a .prj's text: KEYWORD["name", …].
type wkt struct {
	word  string
	words []string
	nodes []wkt
}

// deepestWKT bounds nodes within nodes; a .prj needs four.
const deepestWKT = 12

// readWKT reads well-known text (OGC 01-009, as ESRI writes it).
func readWKT(text string) (wkt, bool) {
	words := regexp.MustCompile(`"[^"]*"|[\[\](),]|[^\s"\[\](),]+`) // here, so that a program that reads no .prj carries none of it
	tokens := words.FindAllString(text, 2000)
	node, rest, ok := wktNode(tokens, 0)
	return node, ok && len(rest) == 0
}

func wktNode(tokens []string, depth int) (node wkt, rest []string, ok bool) {
	if len(tokens) < 3 || depth > deepestWKT || tokens[1] != "[" && tokens[1] != "(" {
		return node, tokens, false
	}
	node.word = strings.ToUpper(tokens[0])
	for rest = tokens[2:]; len(rest) > 0; {
		switch {
		case rest[0] == "]" || rest[0] == ")":
			return node, rest[1:], true
		case rest[0] == ",":
			rest = rest[1:]
		case len(rest) > 1 && (rest[1] == "[" || rest[1] == "("):
			var inner wkt
			if inner, rest, ok = wktNode(rest, depth+1); !ok {
				return node, rest, false
			}
			node.nodes = append(node.nodes, inner)
		default:
			node.words = append(node.words, strings.Trim(rest[0], `"`))
			rest = rest[1:]
		}
	}
	return node, rest, false
}

// find is the first node within this one that has a keyword.
func (w wkt) find(word string) (wkt, bool) {
	for _, node := range w.nodes {
		if node.word == word {
			return node, true
		}
	}
	return wkt{}, false
}

func (w wkt) name() string {
	if len(w.words) == 0 {
		return "without a name"
	}
	return w.words[0]
}

// figure is the node's second word as a number; NaN where it is none.
func (w wkt) figure() float64 {
	if len(w.words) < 2 {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(w.words[1], 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// datums are the names under which the datums go, without blanks, lines and the D_ that
// some writers set before them.
var datums = map[string]Datum{
	"wgs1984": OnWGS84, "wgs84": OnWGS84, "worldgeodeticsystem1984": OnWGS84,
	"gda1994": OnGDA94, "gda94": OnGDA94, "geocentricdatumofaustralia1994": OnGDA94,
	"gda2020": OnGDA2020, "geocentricdatumofaustralia2020": OnGDA2020,
}

// readPRJ reads a .prj file. Degrees on WGS84, GDA94 and GDA2020 and metres of their UTM
// and MGA zones are known; anything else is refused by its name, and never taken for degrees.
func readPRJ(text string) (crs, error) {
	root, ok := readWKT(text)
	if !ok {
		return crs{}, fault.Refuse("", "the .prj is not well-known text, export the shapefile again")
	}
	geographic := root
	if root.word == "PROJCS" {
		geographic, _ = root.find("GEOGCS")
	}
	datum, known := geographic.datum()
	switch {
	case !known:
		return crs{}, unknownPRJ(root)
	case root.word == "GEOGCS":
		return crs{datum: datum, note: noteOf[datum]}, nil
	case root.isWebMap(datum):
		return crs{datum: datum, webMap: true, note: "the file is in the metres of web maps (EPSG:3857), turned into latitude and longitude"}, nil
	}
	zone, isZone := root.zone(datum)
	if !isZone {
		return crs{}, unknownPRJ(root)
	}
	return crs{datum: datum, zone: &zone, note: joinNotes("the file is in "+zone.String()+", turned into latitude and longitude", noteOf[datum])}, nil
}

func joinNotes(first, second string) string {
	if second == "" {
		return first
	}
	return first + "; " + second
}

func unknownPRJ(root wkt) error {
	return fault.Refuse("", "the .prj names %s, which is not known here: export the shapefile as WGS84, GDA94 or GDA2020 degrees, or in a zone of UTM or MGA", root.name())
}

// datum is the datum of degrees from Greenwich; anything else is not known.
func (w wkt) datum() (Datum, bool) {
	named, has := w.find("DATUM")
	prime, told := w.find("PRIMEM")
	unit, inUnit := w.find("UNIT")
	plain := strings.NewReplacer("_", "", " ", "", "-", "").Replace(strings.ToLower(named.name()))
	datum, known := datums[strings.TrimPrefix(plain, "d")]
	if !known {
		datum, known = datums[plain]
	}
	fromGreenwich := !told || prime.figure() == 0
	inDegrees := !inUnit || math.Abs(unit.figure()-degree) < 1e-9
	return datum, w.word == "GEOGCS" && has && known && fromGreenwich && inDegrees
}

// projected is a projection's name in small letters and its parameters; inMetres tells
// whether its unit is the metre.
func (w wkt) projected() (name string, figures map[string]float64, inMetres bool) {
	projection, _ := w.find("PROJECTION")
	unit, _ := w.find("UNIT")
	figures = map[string]float64{"latitude_of_origin": 0}
	for _, node := range w.nodes {
		if node.word == "PARAMETER" {
			figures[strings.ToLower(node.name())] = node.figure()
		}
	}
	return strings.ToLower(projection.name()), figures, w.word == "PROJCS" && unit.figure() == 1
}

// isWebMap tells whether a projection is the one of web maps: Mercator's of a sphere, fed
// with the degrees of the ellipsoid.
func (w wkt) isWebMap(datum Datum) bool {
	name, figures, inMetres := w.projected()
	for _, figure := range figures {
		if figure != 0 {
			return false
		}
	}
	return inMetres && datum == OnWGS84 && (name == "mercator_auxiliary_sphere" || name == "popular_visualisation_pseudo_mercator")
}

// zone is the zone of UTM or MGA that a projection's figures make.
func (w wkt) zone(datum Datum) (Zone, bool) {
	name, figures, inMetres := w.projected()
	number := (figures["central_meridian"] + 183) / 6
	zone := Zone{datum, int(number), figures["false_northing"] == 10_000_000}
	isZone := inMetres && name == "transverse_mercator" &&
		figures["scale_factor"] == 0.9996 && figures["false_easting"] == 500_000 && figures["latitude_of_origin"] == 0 &&
		(zone.South || figures["false_northing"] == 0) && float64(zone.Number) == number
	return zone, isZone && zone.Check() == nil
}
