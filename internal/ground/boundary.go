package ground

import (
	"bytes"
	"fmt"
	"path"
	"slices"
	"strings"

	"rowtally/internal/fault"
)

// MostBytes is the largest boundary file that is read.
const MostBytes = 10 << 20

// Boundary is what a boundary file held: a shape that passed Shape.Check, and notes in
// plain sentences on what was read, what was left out, and what looks odd.
type Boundary struct {
	Shape Shape
	Notes []string
}

// format is one kind of boundary file: how its files are called, how its bytes begin,
// and the reader of what it holds.
type format struct {
	name    string
	endings []string
	begins  func(content []byte) bool
	reads   func(content []byte, mend *mending) (Geometry, []string, error)
}

// formats lists the formats; each has a file of its own. It is a function so that a program
// that reads no boundary carries no reader.
func formats() []format {
	return []format{geoJSONFormat, kmlFormat, kmzFormat, gpxFormat, shapefileFormat, cornersFormat}
}

// ReadBoundary reads the polygons of a boundary file. The name's ending says which
// format it is in; a name without one leaves it to the content.
func ReadBoundary(name string, content []byte) (Boundary, error) {
	return Repairs{}.ReadBoundary(name, content)
}

// ReadBoundary reads as the function of that name does, and mends what was asked for. A
// refusal offers the repair that would help.
func (r Repairs) ReadBoundary(name string, content []byte) (Boundary, error) {
	held, notes, err := r.read(name, content, listsOneRing)
	if err != nil {
		return Boundary{}, err
	}
	left, err := held.leftOut()
	if err != nil {
		return Boundary{}, err
	}
	return finished(held.Polygons, append(notes, left...))
}

// read reads all that a file holds, with notes on what was mended.
func (r Repairs) read(name string, content []byte, lists Lists) (Geometry, []string, error) {
	if err := checkSize(content); err != nil {
		return Geometry{}, nil, err
	}
	text := UTF8(content)
	f, err := formatOf(name, text)
	if err != nil {
		return Geometry{}, nil, err
	}
	mend := mending{Repairs: r, lists: lists}
	held, notes, err := f.reads(text, &mend)
	if err != nil {
		return Geometry{}, nil, mend.offer(err)
	}
	return held, append(mend.notes(), notes...), nil
}

// finished checks a shape that was read and says what there is to say of it.
func finished(shape Shape, notes []string) (Boundary, error) {
	shape, repeated := shape.withoutRepeats()
	if err := shape.Check(); err != nil {
		return Boundary{}, err
	}
	b := Boundary{shape, append([]string{shape.tally()}, notes...)}
	if repeated > 0 {
		b.Notes = append(b.Notes, fmt.Sprintf("left out %s that repeated the one before", counted(repeated, "corner")))
	}
	b.Notes = append(b.Notes, shape.Remarks()...)
	return b, nil
}

func checkSize(content []byte) error {
	switch {
	case len(bytes.TrimSpace(content)) == 0:
		return fault.Refuse("", "the file is empty, choose another")
	case len(content) > MostBytes:
		return fault.Refuse("", "the file has %.1f MB, at most %d MB are read; export the paddock alone", float64(len(content))/(1<<20), MostBytes>>20)
	}
	return nil
}

// formatOf chooses by the name's ending and refuses content that is plainly another
// format than the name says.
func formatOf(name string, content []byte) (format, error) {
	ending := strings.ToLower(path.Ext(name))
	for _, f := range formats() {
		named := slices.Contains(f.endings, ending)
		switch {
		case named && !f.begins(content):
			return format{}, fault.Refuse("", "%s does not hold %s inside, export it again", name, f.name)
		case named || ending == "" && f.begins(content):
			return f, nil
		}
	}
	return format{}, fault.Refuse("", "%q is no boundary file that can be read, give one of these: %s", name, readable())
}

// readable lists the formats for a sentence: "GeoJSON (.geojson, .json), KML (.kml)".
func readable() string {
	var names []string
	for _, f := range formats() {
		names = append(names, f.name+" ("+strings.Join(f.endings, ", ")+")")
	}
	return strings.Join(names, ", ")
}

// withoutRepeats leaves out corners that repeat the one before them.
func (s Shape) withoutRepeats() (Shape, int) {
	left := 0
	thin := func(ring GeoRing) GeoRing {
		kept := slices.Compact(slices.Clone(ring))
		if len(kept) > 1 && kept[0] == kept[len(kept)-1] {
			kept = kept[:len(kept)-1]
		}
		left += len(ring) - len(kept)
		return kept
	}
	out := make(Shape, len(s))
	for i, polygon := range s {
		out[i].Outer = thin(polygon.Outer)
		for _, hole := range polygon.Holes {
			out[i].Holes = append(out[i].Holes, thin(hole))
		}
	}
	return out, left
}

// tally says what was read: "read 1 polygon with 1 hole, 34 corners".
func (s Shape) tally() string {
	holes := 0
	for _, polygon := range s {
		holes += len(polygon.Holes)
	}
	with := ""
	if holes > 0 {
		with = " with " + counted(holes, "hole")
	}
	return fmt.Sprintf("read %s%s, %s", counted(len(s), "polygon"), with, counted(s.Corners(), "corner"))
}

// counted puts a number before a noun.
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
