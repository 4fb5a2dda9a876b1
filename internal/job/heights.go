package job

import (
	"encoding/json"
	"fmt"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// ReadHeights reads measured heights into a paddock, with what was read: lines of
// "lat, lon, height", a CSV or a GPX file. Heights from which no fall can be fitted are
// refused, and the paddock stays.
func ReadHeights(p *Paddock, name string, content []byte) error {
	heights, notes, err := ground.ReadHeights(name, content)
	if err != nil {
		return err
	}
	if err := heightsNear(*p, heights); err != nil {
		return err
	}
	if _, err := fitFall(*p, heights); err != nil {
		return err
	}
	rows := make([][3]float64, len(heights))
	for i, h := range heights {
		rows[i] = [3]float64{h.At.Lat, h.At.Lon, h.HeightM}
	}
	text, err := json.Marshal(rows)
	p.Heights, p.HeightsSource = string(text), name+": "+strings.Join(notes, "; ")
	return err
}

// heightsNear refuses heights that were not measured at the paddock.
func heightsNear(p Paddock, heights []ground.Height) error {
	if p.Boundary == "" {
		return fault.Refuse("", "%s has no boundary yet, read it in before its heights", p.Name)
	}
	survey, err := Survey(p)
	if err != nil {
		return err
	}
	centre, reachM := survey.Shape.Centre(), survey.Shape.AcrossM()/2+farthestM
	for i, h := range heights {
		if off := ground.WGS84.Between(centre, h.At).DistanceM; off > reachM {
			return fault.Refuse("", "height %d lies %.1f km from the middle of %s, check the figures and their order: latitude, longitude, height", i+1, off/1000, p.Name)
		}
	}
	return nil
}

// HeightsOf are the heights that a paddock keeps.
func HeightsOf(p Paddock) ([]ground.Height, error) {
	if p.Heights == "" {
		return nil, nil
	}
	var rows [][3]float64
	if err := json.Unmarshal([]byte(p.Heights), &rows); err != nil {
		return nil, fmt.Errorf("heights of %s: %w", p.Name, err)
	}
	out := make([]ground.Height, len(rows))
	for i, row := range rows {
		out[i] = ground.Height{At: ground.LatLon{Lat: row[0], Lon: row[1]}, HeightM: row[2]}
	}
	return out, nil
}

// fitFall fits the fall in the frame in which the paddock's rows are laid.
func fitFall(p Paddock, heights []ground.Height) (ground.Fall, error) {
	var shape ground.Shape
	if err := json.Unmarshal([]byte(p.Boundary), &shape); err != nil {
		return ground.Fall{}, fmt.Errorf("fall of %s: %w", p.Name, err)
	}
	frame := ground.NewFrame(shape.Centre())
	spots := make([]ground.Spot, len(heights))
	for i, h := range heights {
		spots[i] = ground.Spot{At: frame.ToPlane(h.At), HeightM: h.HeightM}
	}
	return ground.FitFall(spots)
}

// fallOf is the fall of a paddock; nil while no heights are known, or where a boundary
// read later has made them useless.
func fallOf(p Paddock) (*ground.Fall, error) {
	heights, err := HeightsOf(p)
	if err != nil || len(heights) == 0 {
		return nil, err
	}
	fall, err := fitFall(p, heights)
	if fault.KindOf(err) == fault.Refused {
		return nil, nil
	}
	return &fall, err
}

// FallSays tells the fall: "Falls 0.42 % towards 315°, R² 0.970 from 12 heights".
func (g Ground) FallSays() string {
	if g.Fall == nil {
		return ""
	}
	return fmt.Sprintf("Falls %s, %s from %s", g.downhill().Says, g.fit(), unit.Counted(g.Fall.Spots, "height"))
}

// fit is how well the plane fits: three heights always lie on one.
func (g Ground) fit() string {
	if g.Fall.Spots == 3 {
		return "fitted exactly and unproved"
	}
	return "R² " + unit.Grouped(g.Fall.RSquared, 3)
}

func (g Ground) downhill() *Downhill {
	if g.Fall == nil {
		return nil
	}
	grade, bearing := g.Fall.Steepest()
	return &Downhill{bearing, fmt.Sprintf("%s %% towards %s°", unit.Grouped(100*grade, 2), unit.Grouped(bearing, 0))}
}

// RowsFall tells how the rows would run along a bearing: "rows fall 0.40 % along 72°".
func RowsFall(fall ground.Fall, bearingDeg float64) string {
	grade := fall.GradeAlong(bearingDeg)
	if grade > 0 { // driven the other way, they fall
		grade, bearingDeg = -grade, opposite(bearingDeg)
	}
	return fmt.Sprintf("rows fall %s %% along %s°", unit.Grouped(-100*grade, 2), unit.Grouped(bearingDeg, 0))
}

func opposite(bearingDeg float64) float64 {
	if bearingDeg >= 180 {
		return bearingDeg - 180
	}
	return bearingDeg + 180
}

// FallWorking shows how the fall was fitted.
func (g Ground) FallWorking() working.Steps {
	if g.Fall == nil {
		return nil
	}
	f := g.Fall
	grade, bearing := f.Steepest()
	return working.Steps{}.
		Add("rise to the east", fmt.Sprintf("plane through %d heights by least squares", f.Spots), working.Number(100*f.EastRise, 3), "%", "").
		Add("rise to the north", "the same plane", working.Number(100*f.NorthRise, 3), "%", "").
		Add("steepest fall", "√(east² + north²)", working.Number(100*grade, 3), "%", "").
		Add("towards", "the bearing downhill, true", working.Number(bearing, 1), "°", "").
		Add("R²", "share of the heights' variance that the plane explains", working.Number(f.RSquared, 3), "", "").
		Add("off the plane", "root mean square", working.Number(f.ResidualM, 3), "m", "")
}
