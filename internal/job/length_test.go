package job

import (
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"rowtally/internal/ground"
	"rowtally/internal/sown"
)

// withPond is a job whose rows are cut by a hole, so that some rows are in two lengths.
func withPond(t *testing.T) Laid {
	t.Helper()
	p := Paddock{Name: "Pond"}
	text := `{"type":"Polygon","coordinates":[[[140.1,-36.41],[140.106,-36.41],[140.106,-36.405],[140.1,-36.405],[140.1,-36.41]],
		[[140.102,-36.408],[140.104,-36.408],[140.104,-36.407],[140.102,-36.407],[140.102,-36.408]]]}`
	if err := ReadBoundary(&p, "pond.geojson", []byte(text), today); err != nil {
		t.Fatal(err)
	}
	layout := *twinRows()
	layout.BearingDeg = 20
	laid, err := Lay(p, layout)
	if err != nil {
		t.Fatal(err)
	}
	return laid
}

func written(t *testing.T, ending, title string, all []Length) []byte {
	t.Helper()
	for _, f := range LengthFiles {
		if f.Ending == ending {
			content, err := f.Write(title, all)
			if err != nil {
				t.Fatal(err)
			}
			return content
		}
	}
	t.Fatalf("no format %s", ending)
	return nil
}

// sumOf measures lines on the ellipsoid again, without the plan.
func sumOf(lines [][]ground.LatLon) (sum float64) {
	for _, line := range lines {
		sum += ground.WGS84.Between(line[0], line[1]).DistanceM
	}
	return sum
}

func TestRowsLeaveAsTheyAreLaid(t *testing.T) {
	laid := withPond(t)
	all := laid.Lengths()
	if len(all) != laid.SpanCount || laid.SpanCount == laid.RowCount {
		t.Fatalf("%d lengths, %d spans in %d rows", len(all), laid.SpanCount, laid.RowCount)
	}
	const title = `J-05 "Gate" <4> & more`
	near := func(what string, lines [][]ground.LatLon) {
		t.Helper()
		// eight decimals of a degree are a millimetre: two ends of a length
		if len(lines) != len(all) || math.Abs(sumOf(lines)-laid.RowM) > 0.002*float64(len(all)) {
			t.Errorf("%s: %d lengths of %.3f m, laid %d of %.3f m", what, len(lines), sumOf(lines), len(all), laid.RowM)
		}
	}

	var g ground.Geometry
	if err := json.Unmarshal(written(t, "geojson", title, all), &g); err != nil {
		t.Fatal(err)
	}
	near("GeoJSON", g.Lines)

	log, err := sown.Read("gpx", string(written(t, "gpx", title, all)))
	if err != nil || len(log.Fixes) != 2*len(all) {
		t.Errorf("GPX: %d points, %v", len(log.Fixes), err)
	}
	near("GPX", gpxLines(t, written(t, "gpx", title, all)))
	near("KML", kmlLines(t, written(t, "kml", title, all)))
	near("CSV", csvLines(t, written(t, "csv", title, all)))
	for _, ending := range []string{"kml", "gpx"} {
		if text := string(written(t, ending, title, all)); !strings.Contains(text, "&lt;4&gt; &amp; more") {
			t.Errorf("%s does not hold its title whole", ending)
		}
	}
}

// gpxLines reads every <trkpt> of a GPX file by itself.
func gpxLines(t *testing.T, content []byte) (lines [][]ground.LatLon) {
	t.Helper()
	var file struct {
		Version string `xml:"version,attr"`
		Tracks  []struct {
			Name     string `xml:"name"`
			Segments []struct {
				Points []struct {
					Lat float64 `xml:"lat,attr"`
					Lon float64 `xml:"lon,attr"`
				} `xml:"trkpt"`
			} `xml:"trkseg"`
		} `xml:"trk"`
	}
	if err := xml.Unmarshal(content, &file); err != nil || file.Version != "1.1" {
		t.Fatal(file.Version, err)
	}
	for i, track := range file.Tracks {
		if track.Name != fmt.Sprintf("row %d", i+1) {
			t.Errorf("track %d is called %q", i, track.Name)
		}
		for _, segment := range track.Segments {
			var line []ground.LatLon
			for _, p := range segment.Points {
				line = append(line, ground.LatLon{Lat: p.Lat, Lon: p.Lon})
			}
			lines = append(lines, line)
		}
	}
	return lines
}

func kmlLines(t *testing.T, content []byte) (lines [][]ground.LatLon) {
	t.Helper()
	var file struct {
		Rows []struct {
			Lines []string `xml:"MultiGeometry>LineString>coordinates"`
		} `xml:"Document>Placemark"`
	}
	if err := xml.Unmarshal(content, &file); err != nil {
		t.Fatal(err)
	}
	for _, row := range file.Rows {
		for _, text := range row.Lines {
			var line []ground.LatLon
			for _, tuple := range strings.Fields(text) {
				lon, lat, _ := strings.Cut(tuple, ",")
				line = append(line, ground.LatLon{Lat: figureIn(t, lat), Lon: figureIn(t, lon)})
			}
			lines = append(lines, line)
		}
	}
	return lines
}

func csvLines(t *testing.T, content []byte) (lines [][]ground.LatLon) {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(string(content))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if header := strings.Join(rows[0], " "); header != "row from_lat from_lon to_lat to_lon length_m" {
		t.Errorf("the columns are %s", header)
	}
	for _, row := range rows[1:] {
		from := ground.LatLon{Lat: figureIn(t, row[1]), Lon: figureIn(t, row[2])}
		to := ground.LatLon{Lat: figureIn(t, row[3]), Lon: figureIn(t, row[4])}
		if stated := figureIn(t, row[5]); math.Abs(stated-ground.WGS84.Between(from, to).DistanceM) > 0.003 {
			t.Errorf("row %s says %v m and lies %v m apart", row[0], stated, ground.WGS84.Between(from, to).DistanceM)
		}
		lines = append(lines, []ground.LatLon{from, to})
	}
	return lines
}

func figureIn(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// What is sown leaves as the stretches of the match, on their rows.
func TestSownLengthsAreWhereTheRowsWereSown(t *testing.T) {
	f := sceneOf(t, 35)
	laid, err := f.Rows()
	if err != nil {
		t.Fatal(err)
	}
	d := detail{}
	for _, row := range laid.Rows[:10] {
		span := row.Spans[0]
		middle := (span.FromM + span.ToM) / 2
		d.Rows = append(d.Rows, SownRow{Row: row.Number, Sown: [][2]float64{{span.FromM, middle - 5}, {middle + 5, span.ToM}}})
	}
	text, err := json.Marshal(d)
	if err != nil {
		t.Fatal(err)
	}
	f.Sown = &Sown{JobID: f.Job.ID, Detail: string(text)}
	all, err := f.SownLengths()
	if err != nil || len(all) != 20 {
		t.Fatalf("%d lengths, %v", len(all), err)
	}
	for i, one := range all {
		if apart := ground.WGS84.Between(one.From, one.To).DistanceM; math.Abs(apart-one.LengthM) > 1e-6 || one.Row != i/2+1 {
			t.Errorf("row %d says %v m and lies %v m apart", one.Row, one.LengthM, apart)
		}
	}
	f.Sown = nil
	if none, err := f.SownLengths(); err != nil || len(none) != 0 {
		t.Errorf("%v, %v", none, err)
	}
}
