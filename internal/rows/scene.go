package rows

import (
	"strconv"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

// scene is a paddock and its no-go areas in one plane, before any bearing is chosen.
type scene struct {
	frame     *ground.Frame // nil in metres
	paddock   []ground.Polygon
	headlands [][]float64 // of each polygon's outside, side by side
	obstacles []obstacle
	marginM   float64 // from holes
	areaM2    float64
	passes    []HeadlandRow // round the headland, which no bearing moves
}

// sceneOf checks and projects the ground of an input, and lays its headland passes.
func sceneOf(in Input) (scene, error) {
	project := sceneOnEarth
	if in.BoundaryM != nil {
		project = sceneInMetres
	}
	s, err := project(in)
	if err == nil && in.HeadlandPasses > 0 {
		s.passes, err = s.layPasses(in)
	}
	return s, err
}

func sceneOnEarth(in Input) (scene, error) {
	if err := in.Boundary.Check(); err != nil {
		return scene{}, fault.Under("boundary", err)
	}
	if in.Boundary.RoundPole() {
		return scene{}, fault.Refuse("boundary", "the boundary runs round a pole, check its longitudes")
	}
	if across := in.Boundary.AcrossM(); across > WidestM {
		return scene{}, tooWide("boundary", across)
	}
	frame, dense := ground.NewFrame(in.Boundary.Centre()), in.Boundary.Dense()
	s := scene{frame: &frame, paddock: project(frame, dense), marginM: in.margin(), areaM2: ground.WGS84.Extent(dense).AreaM2}
	var outsides [][]int
	for i, polygon := range in.Boundary {
		outsides = append(outsides, edgesBefore(dense[i].Outer, polygon.Outer))
	}
	var err error
	if s.headlands, err = in.headlands(outsides); err != nil {
		return scene{}, err
	}
	for i, noGo := range in.NoGo {
		o, err := noGo.in(frame)
		if err != nil {
			return scene{}, underNoGo(i, err)
		}
		s.addObstacle(o, noGo, in)
	}
	return s, nil
}

// addObstacle keeps a no-go with the margin that is its own, or the margin of all.
func (s *scene) addObstacle(o obstacle, noGo NoGo, in Input) {
	o.marginM = orElse(noGo.MarginM, in.margin())
	s.obstacles = append(s.obstacles, o)
}

func sceneInMetres(in Input) (scene, error) {
	if err := in.BoundaryM.Check(); err != nil {
		return scene{}, fault.Under("boundary_m", err)
	}
	s := scene{paddock: []ground.Polygon{*in.BoundaryM}, marginM: in.margin(), areaM2: in.BoundaryM.AreaM2()}
	if across := in.BoundaryM.AcrossM(); across > WidestM {
		return scene{}, tooWide("boundary_m", across)
	}
	var err error
	outside := in.BoundaryM.Outer
	if s.headlands, err = in.headlands([][]int{edgesBefore(outside, outside)}); err != nil {
		return scene{}, err
	}
	for i, noGo := range in.NoGo {
		o, err := noGo.inMetres()
		if err != nil {
			return scene{}, underNoGo(i, err)
		}
		s.addObstacle(o, noGo, in)
	}
	return s, nil
}

func tooWide(field string, acrossM float64) error {
	return fault.Refuse(field, "the paddock is %.0f km across, rows are laid out up to %d km; check the boundary", acrossM/1000, WidestM/1000)
}

func underNoGo(i int, err error) error {
	return fault.Under("no_go["+strconv.Itoa(i)+"]", err)
}
