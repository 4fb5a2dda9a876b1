package ground

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"math"
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/published"
)

// zipOf puts files into a zip, in the order of their names and texts.
func zipOf(t testing.TB, pairs ...string) []byte {
	t.Helper()
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for i := 0; i < len(pairs); i += 2 {
		f, err := w.Create(pairs[i])
		if err == nil {
			_, err = f.Write([]byte(pairs[i+1]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// shpOf writes a .shp of one record as the technical description has it.
func shpOf(kind uint32, rings ...[]Point) string {
	var body []byte
	put := func(v any) { body, _ = binary.Append(body, binary.LittleEndian, v) }
	put(kind)
	put([4]float64{})
	points := 0
	for _, ring := range rings {
		points += len(ring)
	}
	put([2]uint32{uint32(len(rings)), uint32(points)})
	start := uint32(0)
	for _, ring := range rings {
		put(start)
		start += uint32(len(ring))
	}
	for _, ring := range rings {
		for _, p := range ring {
			put([2]float64{p.E, p.N})
		}
	}
	head := make([]byte, shpHeader)
	binary.BigEndian.PutUint32(head, 9994)
	record := binary.BigEndian.AppendUint32(nil, 1)
	record = binary.BigEndian.AppendUint32(record, uint32(len(body)/2))
	return string(head) + string(record) + string(body)
}

// The texts of .prj files as common programs write them.
const (
	prjWGS84 = `GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]`
	prjMGA55 = `PROJCS["GDA_1994_MGA_Zone_55",GEOGCS["GCS_GDA_1994",DATUM["D_GDA_1994",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",10000000.0],PARAMETER["Central_Meridian",147.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]`
	prjOther = `PROJCS["British_National_Grid",GEOGCS["GCS_OSGB_1936",DATUM["D_OSGB_1936",SPHEROID["Airy_1830",6377563.396,299.3249646]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",400000.0],PARAMETER["False_Northing",-100000.0],PARAMETER["Central_Meridian",-2.0],PARAMETER["Scale_Factor",0.9996012717],PARAMETER["Latitude_Of_Origin",49.0],UNIT["Meter",1.0]]`
)

// mga2020 is prjMGA55 on GDA2020, as another program spells it.
var mga2020 = strings.NewReplacer("GDA_1994", "GDA2020", "D_GDA2020", "Geocentric_Datum_of_Australia_2020", `"GCS_`, `"`).Replace(prjMGA55)

func closed(corners ...float64) (ring []Point) {
	for i := 0; i < len(corners); i += 2 {
		ring = append(ring, Point{corners[i], corners[i+1]})
	}
	return append(ring, ring[0])
}

// dammed is squareWithDam in figures of a shapefile: the outside clockwise, the hole not.
var dammed = [][]Point{closed(140, -36.01, 140, -36, 140.01, -36, 140.01, -36.01), closed(140.004, -36.004, 140.005, -36.006, 140.006, -36.004)}

func TestShapefilesOfDegrees(t *testing.T) {
	want := WGS84.Extent(wanted).AreaM2
	for name, kind := range map[string]uint32{"plain": shpPolygon, "with heights": shpPolygon + 10, "with measures": shpPolygon + 20} {
		got, err := ReadBoundary("paddock.zip", zipOf(t, "x/paddock.dbf", "", "x/Paddock.SHP", shpOf(kind, dammed...), "x/paddock.PRJ", prjWGS84, "__MACOSX/x/._paddock.shp", ""))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if len(got.Shape) != 1 || len(got.Shape[0].Holes) != 1 || math.Abs(WGS84.Extent(got.Shape).AreaM2-want) > 1e-6 {
			t.Errorf("%s: %+v, %q", name, got.Shape, got.Notes)
		}
	}
	backward := [][]Point{dammed[1], dammed[0]} // the hole first: what lies within what decides
	got, err := ReadBoundary("paddock.zip", zipOf(t, "a.shp", shpOf(shpPolygon, backward...), "a.prj", prjWGS84))
	if err != nil || len(got.Shape) != 1 || len(got.Shape[0].Holes) != 1 {
		t.Errorf("%+v, %v", got.Shape, err)
	}
}

func TestIslandsInHoles(t *testing.T) {
	rings := [][]Point{closed(140, -36, 140.1, -36, 140.1, -36.1, 140, -36.1), closed(140.02, -36.02, 140.08, -36.02, 140.08, -36.08, 140.02, -36.08),
		closed(140.04, -36.04, 140.06, -36.04, 140.06, -36.06, 140.04, -36.06), closed(140.2, -36, 140.3, -36, 140.3, -36.1)}
	got, err := ReadBoundary("a.zip", zipOf(t, "a.shp", shpOf(shpPolygon, rings...), "a.prj", prjWGS84))
	if err != nil || len(got.Shape) != 3 || len(got.Shape[0].Holes) != 1 || len(got.Shape[1].Holes) != 0 {
		t.Errorf("%+v, %v", got.Shape, err)
	}
}

// The corners are survey marks whose latitude, longitude, easting and northing are
// published: a grid of metres is turned into degrees to the published figures, and those of
// GDA94 are shifted on.
func TestShapefilesOfMapGridMetresAreTurnedIntoDegrees(t *testing.T) {
	var ring []Point
	var places []LatLon
	for _, row := range published.Rows(t, "geodesy.csv") {
		if id := row.Text("id"); row.Text("quantity") == "easting, northing" && strings.HasPrefix(id, "PT-") && id != "PT-2" && row.Text("ellipsoid_or_grid") == "MGA 55" {
			east, north, _ := strings.Cut(row.Text("expected"), ",")
			ring = append(ring, Point{asFloat(t, east), asFloat(t, north)})
			places = append(places, placesOf(t, row.Text("places"))...)
		}
	}
	if len(ring) != 4 {
		t.Fatalf("%d published marks", len(ring))
	}
	ring[0], ring[1], places[0], places[1] = ring[1], ring[0], places[1], places[0] // so that the ring does not cross itself
	for note, prj := range map[string]string{"MGA94 zone 55": prjMGA55, "MGA2020 zone 55": mga2020} {
		got, err := ReadBoundary("marks.zip", zipOf(t, "a.shp", shpOf(shpPolygon, append(ring[:len(ring):len(ring)], ring[0])), "a.prj", prj))
		if err != nil {
			t.Fatal(note, err)
		}
		for i, place := range got.Shape[0].Outer {
			want := places[i] // on the file's own datum
			if prj == prjMGA55 {
				want = FromGDA94(want)
			}
			if off := GRS80.Between(place, want).DistanceM; off > 0.001 {
				t.Errorf("%s: mark %d is %.4f m off its published place", note, i, off)
			}
		}
		if !strings.Contains(strings.Join(got.Notes, "; "), note) {
			t.Errorf("%q does not say %s", got.Notes, note)
		}
	}
}

func asFloat(t *testing.T, text string) float64 { return angle(t, strings.TrimSpace(text)) }

func TestShapefilesThatAreRefused(t *testing.T) {
	good := shpOf(shpPolygon, dammed...)
	metres := shpOf(shpPolygon, closed(312000, 5990000, 312000, 5991000, 313000, 5991000))
	for _, c := range []struct {
		says  string
		files []string
	}{
		{"British_National_Grid, which is not known here", []string{"a.shp", metres, "a.prj", prjOther}},
		{"holds 0 .prj files", []string{"a.shp", good}},
		{"holds no .shp", []string{"a.prj", prjWGS84}},
		{"holds 2 shapefiles", []string{"a.shp", good, "b.shp", good, "a.prj", prjWGS84}},
		{"not well-known text", []string{"a.shp", good, "a.prj", "WGS84"}},
		{"not well-known text", []string{"a.shp", good, "a.prj", strings.Repeat("GEOGCS[", 40)}},
		{"D_Unknown_GCS", []string{"a.shp", good, "a.prj", strings.NewReplacer("GCS_WGS_1984", "D_Unknown_GCS", "D_WGS_1984", "D_Unknown").Replace(prjWGS84)}},
		{"Paris_Degrees", []string{"a.shp", good, "a.prj", strings.NewReplacer("GCS_WGS_1984", "Paris_Degrees", `"Greenwich",0.0`, `"Paris",2.33722917`).Replace(prjWGS84)}},
		{"is not known here", []string{"a.shp", good, "a.prj", strings.Replace(prjMGA55, `UNIT["Meter",1.0]`, `UNIT["Foot_US",0.3048006096]`, 1)}},
		{"is not known here", []string{"a.shp", good, "a.prj", strings.Replace(prjMGA55, "147.0", "146.0", 1)}},
		{"is not known here", []string{"a.shp", good, "a.prj", strings.Replace(prjMGA55, "10000000.0", "0.0", 1)}},
		{"looks like metres of a map grid", []string{"a.shp", metres, "a.prj", prjWGS84}},
		{"1 line and no polygon", []string{"a.shp", shpOf(3, dammed[0]), "a.prj", prjWGS84}},
		{"does not begin as one", []string{"a.shp", "shp", "a.prj", prjWGS84}},
		{"cut short", []string{"a.shp", good[:len(good)-9], "a.prj", prjWGS84}},
		{"cut short", []string{"a.shp", good[:shpHeader] + "\x00\x00\x00\x01\x00\x00\x00\x01....", "a.prj", prjWGS84}},
		{"the ring is open", []string{"a.shp", shpOf(shpPolygon, dammed[0][:4]), "a.prj", prjWGS84}},
	} {
		_, err := ReadBoundary("a.zip", zipOf(t, c.files...))
		if err == nil || !strings.Contains(err.Error(), c.says) || fault.KindOf(err) != fault.Refused {
			t.Errorf("%v, should say %q", err, c.says)
		}
	}
	if _, err := ReadBoundary("a.zip", []byte("PK\x03\x04 and no more")); err == nil || !strings.Contains(err.Error(), "cannot be opened") {
		t.Error(err)
	}
}

// No .shp and no .prj make the readers panic, hang, or hand out what Check refuses.
func FuzzShapefile(f *testing.F) {
	for _, prj := range []string{prjWGS84, prjMGA55, prjOther} {
		f.Add([]byte(shpOf(shpPolygon, dammed...)), prj)
	}
	f.Add([]byte(shpOf(shpPolygon+10, make([]Point, 5))), prjWGS84)
	f.Add([]byte(shpOf(3, dammed[0])), prjMGA55)
	f.Add([]byte(shpOf(shpPolygon, dammed[0], dammed[0])), prjWeb)
	f.Add([]byte(shpOf(shpPolygon, dammed[1], dammed[0])+"12345"), mga2020)
	f.Fuzz(func(t *testing.T, shp []byte, prj string) {
		b, err := ReadBoundary("a.zip", zipOf(t, "a.shp", string(shp), "a.prj", prj))
		if err != nil && fault.KindOf(err) != fault.Refused {
			t.Errorf("%v is no refusal", err)
		}
		if err == nil && b.Shape.Check() != nil {
			t.Error(b.Shape.Check())
		}
	})
}
