package site

import (
	"encoding/json"
	"fmt"
	"math"

	"rowtally/internal/ground"
	"rowtally/internal/job"
)

type drawPage struct {
	Frame
	Paddock job.Paddock
	Head    string
	Start   string // what the map begins with, as JSON; "" while nobody knows where to open it
	Drawn   string // GeoJSON
	Stays   string // "1 line and 2 points" that are shown and not drawn; "" for none
	Figures drawnFigures
	At      Field
	Credit  string // whose imagery lies under the map; "" for a plain grid
}

// drawnFigures is how much ground is drawn, or what is wrong with it.
type drawnFigures struct {
	job.DrawnExtent
	Refused string
	Begun   bool // anything is drawn, so that what is refused is a fault
}

// mapStart is what the map's script is told.
type mapStart struct {
	Others [][][2]float64 `json:"others"` // the farm's other paddocks: rings of longitude and latitude
	Lines  [][][2]float64 `json:"lines"`  // no-go lines that a file gave
	Points [][2]float64   `json:"points"` // and points
	At     [2]float64     `json:"at"`     // latitude and longitude where the map opens
	Degree [2]float64     `json:"degree"` // metres to a degree of latitude and of longitude, there
	Whole  bool           `json:"whole"`  // opens on all that is there, and not at a place typed
	Tiles  string         `json:"tiles"`  // address of the imagery; "" for a plain grid
	Level  int            `json:"level"`  // the closest that the imagery is served at
}

// paddockDraw lets a boundary be drawn on a map, and keeps it by the act that keeps a file's.
func (s *site) paddockDraw(r *request) error {
	paddock, err := named(r, s.Books.Paddock)
	if err != nil {
		return err
	}
	f := blank(map[string]string{"at": r.Query("at")})
	drawn, err := job.DrawnOf(paddock)
	if err != nil {
		return err
	}
	if r.isPost() {
		f = readForm(r)
		if drawn, err = job.ReadDrawn(f.typed["drawn"]); err == nil {
			err = drawn.ReadInto(&paddock, r.today())
		}
		if err == nil {
			err = s.Books.ChangePaddock(r.Context(), r.act(), paddock)
		}
		if err == nil {
			return r.see(fmt.Sprintf("/paddocks/%d?done=kept", paddock.ID))
		}
		if err := f.take(err); err != nil {
			return err
		}
	}
	return s.showDrawing(r, f, paddock, drawn)
}

func (s *site) showDrawing(r *request, f *form, paddock job.Paddock, drawn job.Drawn) error {
	text, err := json.MarshalIndent(drawn, "", " ") // in lines, so that no "}}" stands in a page but a template's own
	if err != nil {
		return err
	}
	page := drawPage{Frame: r.frame("farms", "Draw "+paddock.Name), Paddock: paddock, Drawn: string(text), Figures: figuresOf(drawn), Credit: r.business.TileCredit}
	stays := ground.Geometry{Lines: surveyed(paddock).NoGo.Lines, Points: surveyed(paddock).NoGo.Points}
	if page.Start, err = s.mapOpens(r, f, paddock, drawn, stays); err != nil {
		return err
	}
	page.Stays = stays.Tally()
	page.At = f.field(Field{Name: "at", Label: "Latitude, longitude", Hint: "In degrees, such as -36.40123, 140.10456."})
	page.Head = f.head()
	if !f.ok() {
		r.Status(422)
	}
	r.Set("Content-Security-Policy", policyWithImagery(r.business.TileAddress))
	return r.show("draw", page)
}

// mapOpens says where the map opens, on what, and what else it shows: at the place typed, else at what is drawn,
// else at the farm's other paddocks.
func (s *site) mapOpens(r *request, f *form, paddock job.Paddock, drawn job.Drawn, stays ground.Geometry) (string, error) {
	start := mapStart{Others: [][][2]float64{}, Lines: [][][2]float64{}, Points: cornersOf(stays.Points), Tiles: r.business.TileAddress, Level: r.business.TileClosest}
	siblings, err := s.Books.Paddocks(r.Context(), paddock.FarmID)
	if err != nil {
		return "", err
	}
	for _, line := range stays.Lines {
		start.Lines = append(start.Lines, cornersOf(line))
	}
	rings := append([]ground.GeoRing(nil), drawn.Outsides...)
	for _, other := range siblings {
		if survey, err := job.Survey(other); err == nil && other.ID != paddock.ID {
			for _, part := range survey.Shape {
				start.Others = append(start.Others, cornersOf(part.Outer))
				rings = append(rings, part.Outer)
			}
		}
	}
	at, typed := f.placeOnEarth("at")
	if start.Whole = !typed && len(rings) > 0; start.Whole {
		at = ground.Shape{{Outer: rings[0]}}.Centre()
	} else if !typed {
		return "", nil
	}
	start.At = [2]float64{at.Lat, at.Lon}
	start.Degree = degreeM(at)
	text, err := json.Marshal(start)
	return string(text), err
}

// placeOnEarth reads a place that may be left empty; ok is false where it is, or is refused.
func (f *form) placeOnEarth(name string) (at ground.LatLon, ok bool) {
	lat, lon := f.place(name)
	if lat == nil {
		return at, false
	}
	at = ground.LatLon{Lat: *lat, Lon: *lon}
	err := at.Check()
	if err != nil {
		f.refuse(name, "%s", sentence(err.Error()))
	}
	return at, err == nil
}

// degreeM is how many metres a degree of latitude and one of longitude are near a place,
// taken over a hundredth: what the map's grid is ruled by.
func degreeM(at ground.LatLon) [2]float64 {
	const part = 0.01
	towardsEquator := math.Copysign(part, -at.Lat)
	return [2]float64{
		ground.WGS84.Between(at, ground.LatLon{Lat: at.Lat + towardsEquator, Lon: at.Lon}).DistanceM / part,
		ground.WGS84.Between(at, ground.LatLon{Lat: at.Lat, Lon: at.Lon + part}).DistanceM / part,
	}
}

// cornersOf lists a ring's corners, or other places, as longitude and latitude.
func cornersOf(ring []ground.LatLon) [][2]float64 {
	out := [][2]float64{}
	for _, corner := range ring {
		out = append(out, [2]float64{corner.Lon, corner.Lat})
	}
	return out
}

// drawnMeasure answers the map's script with how much ground is drawn so far.
func (s *site) drawnMeasure(r *request) error {
	if _, err := named(r, s.Books.Paddock); err != nil {
		return err
	}
	drawn, err := job.ReadDrawn(r.FormValue("drawn"))
	figures := drawnFigures{Begun: true}
	if err != nil {
		figures.Refused = sentence(err.Error())
	} else {
		figures = figuresOf(drawn)
	}
	return r.showPart("draw", "drawn", figures)
}

func figuresOf(drawn job.Drawn) drawnFigures {
	extent, err := drawn.Extent()
	if err != nil {
		return drawnFigures{Refused: sentence(err.Error()), Begun: len(drawn.Outsides)+len(drawn.Holes)+len(drawn.NoGo) > 0}
	}
	return drawnFigures{DrawnExtent: extent}
}
