package site

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rowtally/internal/job"
)

// sketch is a plan ready to be drawn as SVG: north up, in the units of the face's
// pictures, with a scale bar of a round length.
type sketch struct {
	Width, Height        float64
	Outline, Holes, NoGo string // closed paths
	Rows, Sown, Missed   string // rows as open paths
	Bar, BarLabel        string
	BarX, BarY           float64
	North                string
	Marks                []sketchMark // where readings were taken
	Falls, FallsSays     string       // an arrow down the fall, and what it says
	FallsX, FallsY       float64
	Picked, PickedSays   string // one row drawn apart, and its number
	PickedX, PickedY     float64
	Says                 string // what a reader who does not see it is told

	NoGoLines, Headland string // open paths: no-go lines, and rows round the headland
	NoGoPoints          []sketchMark
	Names               []sketchName
}

// sketchName names a corner or a no-go area.
type sketchName struct {
	X, Y float64
	Name string
	NoGo bool
}

// sketchMark is a numbered place.
type sketchMark struct {
	X, Y, TextX float64
	Number      int
}

// The two widths that plans are drawn at: beside a link, and across a page.
const (
	besideLink = 320.0
	acrossPage = 640.0
)

const (
	sketchEdge = 6.0  // left free around the plan
	sketchFoot = 30.0 // for the scale bar and the north
)

// drawing turns metres of the plane into units of the picture.
type drawing struct {
	west, north, scale float64
}

func (d drawing) x(e job.Metres) float64 { return sketchEdge + (float64(e)-d.west)*d.scale }
func (d drawing) y(n job.Metres) float64 { return sketchEdge + (d.north-float64(n))*d.scale }

// sketchOf makes a plan ready. It is nil when there is nothing to draw.
func sketchOf(m job.Map, width float64) *sketch {
	d, ok := drawingOf(m, width)
	if !ok {
		return nil
	}
	west, south, east, north := bounds(m)
	foot := sketchEdge + (north-south)*d.scale
	k := &sketch{
		Width: width, Height: math.Ceil(foot + sketchFoot),
		Outline: d.rings(m.Outline), Holes: d.rings(m.Holes), NoGo: d.rings(m.NoGo),
		Rows: d.stretches(m.Rows), Sown: d.stretches(m.Sown), Missed: d.stretches(m.Missed),
		NoGoLines: d.paths(m.NoGoLines), Headland: d.paths(m.Headland),
	}
	for i, at := range m.NoGoPoints {
		k.NoGoPoints = append(k.NoGoPoints, sketchMark{X: d.x(at[0]), Y: d.y(at[1]), Number: i + 1})
	}
	k.addScale(d, east-west, foot)
	k.addMarks(d, m.Marks)
	k.addFall(m.Falls, foot)
	k.Says = fmt.Sprintf("The paddock, %.0f m from west to east, with %d lengths of row", east-west, len(m.Rows))
	return k
}

// drawingOf fits a plan into a width; ok is false where there is nothing to draw.
func drawingOf(m job.Map, width float64) (d drawing, ok bool) {
	west, south, east, north := bounds(m)
	if !(east > west && north > south) {
		return drawing{}, false
	}
	inner := width - 2*sketchEdge
	return drawing{west, north, min(inner/(east-west), 1.15*inner/(north-south))}, true
}

// namedSketchOf makes a plan ready with the names of corners and no-go areas. A name that
// would lie over one set before is left out.
func namedSketchOf(m job.Map, names []job.MapName, width float64) *sketch {
	const inM, apart = 14.0, 17.0
	k := sketchOf(m, width)
	if k == nil {
		return nil
	}
	d, _ := drawingOf(m, width)
	middleX, middleY := k.Width/2, (k.Height-sketchFoot)/2
	for _, name := range names {
		x, y := d.x(name.At[0]), d.y(name.At[1])
		long := max(1, math.Hypot(middleX-x, middleY-y))
		x, y = x+inM*(middleX-x)/long, y+inM*(middleY-y)/long // towards the middle, where there is room
		taken := slices.ContainsFunc(k.Names, func(other sketchName) bool { return math.Hypot(other.X-x, other.Y-y) < apart })
		if !taken {
			k.Names = append(k.Names, sketchName{x, y, name.Name, name.NoGo})
		}
	}
	return k
}

// addScale draws a scale bar of about a quarter of the plan's width, and the north.
func (k *sketch) addScale(d drawing, widthM, foot float64) {
	length := roundLength(widthM / 4)
	y := foot + 18
	k.Bar = fmt.Sprintf("M%.1f %.1fv5h%.1fv-5", sketchEdge, y-5, length*d.scale)
	k.BarLabel, k.BarX, k.BarY = fmt.Sprintf("%.0f m", length), sketchEdge+length*d.scale+6, y+3
	k.North = fmt.Sprintf("M%.1f %.1fv-18m-4 6l4 -6l4 6", k.Width-14, y+5)
}

func (k *sketch) addMarks(d drawing, marks []job.Mark) {
	for i, at := range marks {
		x, y := d.x(at[0]), d.y(at[1])
		k.Marks = append(k.Marks, sketchMark{x, y, x + 8, i + 1})
	}
}

// addFall draws an arrow down the fall through the picture's middle, and says beside the
// scale what it means.
func (k *sketch) addFall(falls *job.Downhill, foot float64) {
	if falls == nil {
		return
	}
	sin, cos := math.Sincos(falls.BearingDeg * math.Pi / 180)
	reach := 0.3 * min(k.Width, foot)
	x, y := k.Width/2+reach*sin/2, foot/2-reach*cos/2
	head := func(turnDeg float64) string {
		s, c := math.Sincos((falls.BearingDeg + turnDeg) * math.Pi / 180)
		return fmt.Sprintf("%.1f %.1f", x+12*s, y-12*c)
	}
	k.Falls = fmt.Sprintf("M%.1f %.1fL%.1f %.1fM%sL%.1f %.1fL%s", x-reach*sin, y+reach*cos, x, y, head(155), x, y, head(205))
	k.FallsSays, k.FallsX, k.FallsY = "falls "+falls.Says, k.Width-30, k.BarY
}

// roundLength is the largest of 1, 2 and 5 times a power of ten up to a length.
func roundLength(most float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(most)))
	for _, step := range []float64{5, 2} {
		if step*power <= most {
			return step * power
		}
	}
	return power
}

func bounds(m job.Map) (west, south, east, north float64) {
	west, south, east, north = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, ring := range m.Outline {
		for _, p := range ring {
			west, east = min(west, float64(p[0])), max(east, float64(p[0]))
			south, north = min(south, float64(p[1])), max(north, float64(p[1]))
		}
	}
	for _, p := range m.Marks {
		west, east = min(west, float64(p[0])), max(east, float64(p[0]))
		south, north = min(south, float64(p[1])), max(north, float64(p[1]))
	}
	return west, south, east, north
}

func (d drawing) rings(all []job.Ring) string {
	var path strings.Builder
	for _, ring := range all {
		for i, p := range ring {
			path.WriteByte("ML"[min(i, 1)])
			fmt.Fprintf(&path, "%.1f %.1f", d.x(p[0]), d.y(p[1]))
		}
		path.WriteByte('Z')
	}
	return path.String()
}

func (d drawing) paths(all []job.Ring) string {
	var path strings.Builder
	for _, line := range all {
		for i, p := range line {
			path.WriteByte("ML"[min(i, 1)])
			fmt.Fprintf(&path, "%.1f %.1f", d.x(p[0]), d.y(p[1]))
		}
	}
	return path.String()
}

func (d drawing) stretches(all []job.Stretch) string {
	var path strings.Builder
	for _, s := range all {
		fmt.Fprintf(&path, "M%.1f %.1fL%.1f %.1f", d.x(s[0]), d.y(s[1]), d.x(s[2]), d.y(s[3]))
	}
	return path.String()
}

// sketchOfText draws the plan that was issued with a paper.
func sketchOfText(text string, width float64) *sketch {
	m, drawn, err := job.ReadMap(text)
	if !drawn || err != nil {
		return nil
	}
	return sketchOf(m, width)
}
