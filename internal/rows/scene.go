package rows

import (
	"math"
	"strconv"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

// scene is a paddock and its no-go areas in one plane, before any bearing is chosen.
type scene struct {
	frame     *ground.Frame // nil in metres
	paddock   []ground.Polygon
	obstacles []obstacle
	areaM2    float64
}

// sceneOf checks and projects the ground of an input.
func sceneOf(in Input) (scene, error) {
	if in.BoundaryM != nil {
		return sceneInMetres(in)
	}
	if err := in.Boundary.Check(); err != nil {
		return scene{}, fault.Under("boundary", err)
	}
	if across := in.Boundary.AcrossM(); across > WidestM {
		return scene{}, tooWide("boundary", across)
	}
	frame, dense := ground.NewFrame(in.Boundary.Centre()), in.Boundary.Dense()
	s := scene{frame: &frame, paddock: project(frame, dense), areaM2: ground.WGS84.Extent(dense).AreaM2}
	for i, noGo := range in.NoGo {
		o, err := noGo.in(frame)
		if err != nil {
			return scene{}, underNoGo(i, err)
		}
		s.obstacles = append(s.obstacles, o)
	}
	return s, nil
}

func sceneInMetres(in Input) (scene, error) {
	if err := in.BoundaryM.Check(); err != nil {
		return scene{}, fault.Under("boundary_m", err)
	}
	s := scene{paddock: []ground.Polygon{*in.BoundaryM}, areaM2: in.BoundaryM.AreaM2()}
	if across := in.BoundaryM.AcrossM(); across > WidestM {
		return scene{}, tooWide("boundary_m", across)
	}
	for i, noGo := range in.NoGo {
		o, err := noGo.inMetres()
		if err != nil {
			return scene{}, underNoGo(i, err)
		}
		s.obstacles = append(s.obstacles, o)
	}
	return s, nil
}

func tooWide(field string, acrossM float64) error {
	return fault.Refuse(field, "the paddock is %.0f km across, rows are laid out up to %d km; check the boundary", acrossM/1000, WidestM/1000)
}

func underNoGo(i int, err error) error {
	return fault.Under("no_go["+strconv.Itoa(i)+"]", err)
}

// axes are the directions of a plan: along the bearing, and to its right from the
// paddock's left-most point.
type axes struct {
	sin, cos float64
	left     ground.Point
	leftM    float64
}

// spot is a point by its place along and right of a plan's axes.
type spot struct{ along, right float64 }

// facing turns the scene to a bearing and measures its width across it.
func (s scene) facing(bearingDeg float64) (a axes, widthM float64) {
	a.sin, a.cos = math.Sincos(bearingDeg * math.Pi / 180)
	a.left = s.paddock[0].Outer[0]
	for _, polygon := range s.paddock {
		for _, p := range polygon.Outer {
			if a.across(p) < a.across(a.left) {
				a.left = p
			}
		}
	}
	a.leftM = a.across(a.left)
	for _, polygon := range s.paddock {
		for _, p := range polygon.Outer {
			widthM = max(widthM, a.spot(p).right)
		}
	}
	return a, widthM
}

func (a axes) across(p ground.Point) float64 { return p.E*a.cos - p.N*a.sin }

// spot finds a point's place. The place to the right is measured from the left-most
// point and rounded to the nanometres that a turn of the axes loses, so that a fence
// along the bearing has all its corners in one place.
func (a axes) spot(p ground.Point) spot {
	return spot{p.E*a.sin + p.N*a.cos, rounded((p.E-a.left.E)*a.cos - (p.N-a.left.N)*a.sin)}
}

// rounding is the grain of places across the rows: 2^-27 m, 7 nm.
const rounding = 0x1p-27

func rounded(m float64) float64 { return math.RoundToEven(m/rounding) * rounding }
