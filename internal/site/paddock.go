package site

import (
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"strconv"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
	"rowtally/internal/job"
	"rowtally/internal/working"
)

func (s *site) paddockNew(r *request) error {
	farmID, err := r.id("id")
	if err != nil {
		return err
	}
	farm, err := s.Books.Farm(r.Context(), farmID)
	if err != nil {
		return err
	}
	f := blank(nil)
	if r.isPost() {
		f = readForm(r)
		paddock := job.Paddock{FarmID: farmID, Name: f.must("name", "Enter the paddock's name.")}
		f.readGround(r, &paddock)
		if f.ok() {
			id, err := s.Books.AddPaddock(r.Context(), r.act(), paddock)
			if err == nil {
				return r.see(fmt.Sprintf("/paddocks/%d", id))
			}
			if err := f.take(err); err != nil {
				return err
			}
		}
	}
	named := group{Fields: []Field{{Name: "name", Label: "Paddock", Required: true}}}
	return r.draw(f, formPage{
		Frame: r.frame("farms", "A new paddock of "+farm.Name), Groups: append([]group{named}, groundFields()...),
		Lead:   "The name is enough for now: the boundary can be drawn on a map, or read in, once the paddock is kept.",
		Button: "Keep the paddock", Back: "/farms/" + strconv.FormatInt(farmID, 10), Files: true,
	})
}

func (s *site) paddockBoundary(r *request) error {
	paddock, err := named(r, s.Books.Paddock)
	if err != nil {
		return err
	}
	f := blank(nil)
	back := fmt.Sprintf("/paddocks/%d", paddock.ID)
	if r.isPost() {
		f = readForm(r)
		if given := f.readGround(r, &paddock); !given && f.ok() {
			f.refuse("boundary", "Choose the boundary's file, or a no-go file: nothing was given to read in.")
		}
		if f.ok() {
			if err := s.Books.ChangePaddock(r.Context(), r.act(), paddock); err == nil {
				return r.see(back + "?done=kept")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("farms", "The boundary of "+paddock.Name), Groups: groundFields(), Button: "Read it in", Back: back, Files: true,
		Lead: "A new boundary changes what is planned from now on. Papers that were issued keep the rows they were issued with.",
	})
}

func groundFields() []group {
	return []group{
		{Heading: "Boundary", Fields: []Field{
			{Name: "boundary", Label: "Boundary file", Kind: "file", Hint: "GeoJSON, KML, KMZ, GPX track or route, CSV of corners, or a zipped shapefile with its .prj. Holes in it (a dam, a scald) stay unsown."},
			{Name: "boundary_text", Label: "or its text, pasted", Kind: "textarea", Hint: "Or its corners typed: a line each, latitude and longitude, such as -36.40123, 140.10456."},
		}},
		{Heading: "or bearings and distances", Fields: []Field{
			{Name: "round_start", Label: "From", Hint: "Latitude, longitude of the corner that the round begins at."},
			{Name: "round", Label: "Sides, in order", Kind: "textarea", Hint: "A line each: true bearing in degrees, then metres, such as 72, 350.5."},
		}},
		{Heading: "No-go areas, lines and points", Lead: "Remnant trees, drains, fences, buried pipes, bores. Rows stay off them by the no-go margin of the job, or by one of their own. What is read in takes the place of all that the paddock had.", Fields: []Field{
			{Name: "no_go", Label: "No-go file", Kind: "file", Hint: "In any of the formats above. Its areas, lines and points all count; a shapefile holds one kind alone."},
			{Name: "no_go_text", Label: "or its text, pasted", Kind: "textarea", Hint: "Or places typed: a line each, latitude and longitude."},
			{Name: "no_go_lists", Label: "Places typed, a CSV or a GPX track are", Kind: "select", Required: true, Options: []Option{
				{"", "the corners round an area"},
				{string(ground.ListsAreLines), "a line: a fence, a drain, a pipe"},
				{string(ground.ListsArePoints), "single points: bores, troughs"},
			}, Hint: "GPX waypoints are points in any case. An empty line among places typed begins the next line."},
		}},
		{Heading: "Repairs", Lead: "Nothing is mended unasked. Tick one where a file was refused for it.", Fields: []Field{
			{Name: "close_ring", Label: "The ring is open: " + ground.CloseForMe, Kind: "tick"},
			{Name: "swap_axes", Label: "Latitude and longitude are swapped: " + ground.SwapForMe, Kind: "tick"},
			{Name: "from_gda94", Label: "The file is on GDA94 and does not say so: shift it to GDA2020, about 1.8 m", Kind: "tick"},
		}},
	}
}

// readGround reads boundary and no-go area off the form into a paddock, and tells whether
// either was given. What is not given stays as it was.
func (f *form) readGround(r *request, p *job.Paddock) (given bool) {
	mend := ground.Repairs{CloseRings: f.typed["close_ring"] == "on", SwapAxes: f.typed["swap_axes"] == "on", FromGDA94: f.typed["from_gda94"] == "on"}
	if name, content, ok := f.file(r, "boundary"); ok {
		given = true
		if err := job.MendBoundary(p, name, content, mend, r.today()); err != nil {
			f.refuse("boundary", "%s", sentence(err.Error()))
		}
	} else if f.typed["round"] != "" {
		given = true
		f.readRound(r, p, mend)
	}
	if name, content, ok := f.file(r, "no_go"); ok {
		given = true
		if err := job.MendNoGo(p, name, content, mend, f.lists()); err != nil {
			f.refuse("no_go", "%s", sentence(err.Error()))
		}
	}
	return given
}

// lists is what lists of places are in a no-go file; areas while nobody says.
func (f *form) lists() ground.Lists {
	if chosen := f.typed["no_go_lists"]; chosen != "" {
		return ground.Lists(chosen)
	}
	return ground.ListsAreAreas
}

// readRound reads a boundary from its sides.
func (f *form) readRound(r *request, p *job.Paddock, mend ground.Repairs) {
	lat, lon := f.place("round_start")
	if lat == nil {
		f.refuse("round_start", "Enter the latitude and longitude that the round begins at.")
		return
	}
	if err := job.ReadRound(p, ground.LatLon{Lat: *lat, Lon: *lon}, f.typed["round"], mend, r.today()); err != nil {
		f.refuse("round", "%s", sentence(err.Error()))
	}
}

// file takes a file of the form, or the text pasted beside it. ok is false when neither
// was given, and when it was refused.
func (f *form) file(r *request, name string) (fileName string, content []byte, ok bool) {
	return f.fileUpTo(r, name, job.LargestFile)
}

// fileUpTo takes a file of at most so many bytes.
func (f *form) fileUpTo(r *request, name string, most int64) (fileName string, content []byte, ok bool) {
	header, err := r.FormFile(name)
	if err != nil || header.Size == 0 {
		if err == nil {
			f.refuse(name, "%s is empty: choose the file again.", header.Filename)
		}
		pasted := f.typed[name+"_text"]
		return "pasted text", []byte(pasted), pasted != ""
	}
	if header.Size > most {
		f.refuse(name, "%s is %d MB, and a file of up to %d MB is read: check that it is the right one, or thin it out.",
			header.Filename, header.Size>>20, most>>20)
		return "", nil, false
	}
	content, err = readUpload(header)
	if err != nil {
		f.refuse(name, "%s did not arrive whole: choose it again.", header.Filename)
	}
	return header.Filename, content, err == nil
}

func readUpload(header *multipart.FileHeader) ([]byte, error) {
	file, err := header.Open()
	if err != nil {
		return nil, err
	}
	content := make([]byte, header.Size)
	_, err = io.ReadFull(file, content)
	return content, errors.Join(err, file.Close())
}

type paddockPage struct {
	Frame
	Paddock job.Paddock
	Farm    job.Farm
	Ground  *job.Ground // nil while no boundary is read
	NoGo    string      // "1 area and 2 points"; "" for none
	Sketch  *sketch
	Working working.Steps

	Readings []readingLine
	Advice   ground.Advice
}

// Deferring says who decides, beside whatever is advised.
func (paddockPage) Deferring() string { return ground.Deferring }

// readingLine is one reading of the table, with what is published about it.
type readingLine struct {
	ground.Finding
	Number int // on the sketch; 0 where it has no place or does not count
}

func (s *site) paddockShow(r *request) error {
	id, err := r.id("id")
	if err != nil {
		return err
	}
	page := paddockPage{}
	if page.Paddock, err = s.Books.Paddock(r.Context(), id); err != nil {
		return err
	}
	if page.Farm, err = s.Books.Farm(r.Context(), page.Paddock.FarmID); err != nil {
		return err
	}
	page.Frame = r.frame("farms", page.Paddock.Name)
	readings, err := s.Books.Readings(r.Context(), id)
	if err != nil {
		return err
	}
	page.addReadings(readings)
	if page.Paddock.Boundary == "" {
		return r.show("paddock", page)
	}
	survey, err := job.Survey(page.Paddock)
	if fault.KindOf(err) == fault.Internal && err != nil {
		return err
	}
	page.Ground, page.Working, page.NoGo = &survey, survey.Working(), survey.NoGo.Tally()
	page.Sketch = sketchOf(job.MapOfSite(survey, page.placed()), acrossPage)
	return r.show("paddock", page)
}

// addReadings lists readings with their classes, and numbers those that have a place.
func (p *paddockPage) addReadings(readings []ground.Reading) {
	p.Advice = ground.Advise(readings)
	for _, reading := range readings {
		line := readingLine{Finding: reading.Find()}
		if _, placed := reading.Place(); placed && reading.Standing() {
			line.Number = len(p.placed()) + 1
		}
		p.Readings = append(p.Readings, line)
	}
}

// placed are the readings that the sketch shows, in the order of their numbers.
func (p *paddockPage) placed() (places []ground.LatLon) {
	for _, line := range p.Readings {
		if at, ok := line.Place(); ok && line.Number > 0 {
			places = append(places, at)
		}
	}
	return places
}
