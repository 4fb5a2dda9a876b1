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
	if in.Boundary.RoundPole() {
		return scene{}, fault.Refuse("boundary", "the boundary runs round a pole, check its longitudes")
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
