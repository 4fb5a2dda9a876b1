package job

import (
	"slices"

	"rowtally/internal/ground"
)

// Length is one unbroken length of row on the earth, WGS 84: planned, or sown.
type Length struct {
	Row     int // as numbered on every page, left to right along the bearing
	From    ground.LatLon
	To      ground.LatLon
	LengthM float64 // on the ellipsoid
}

// Lengths are the planned rows, row by row.
func (l Laid) Lengths() (all []Length) {
	for _, row := range l.Rows {
		for _, span := range row.Spans {
			from, to := l.Ends(row, span)
			all = append(all, Length{row.Number, l.Frame.ToEarth(from), l.Frame.ToEarth(to), span.LengthM})
		}
	}
	return all
}

// SownLengths are where the logs show the planned rows sown, also past their ends, row by row.
func (f Facts) SownLengths() ([]Length, error) {
	laid, err := f.Rows()
	if err != nil || f.Sown == nil {
		return nil, err
	}
	sown := map[int][][2]float64{}
	for _, row := range f.Sown.Rows() {
		sown[row.Row] = row.Sown
	}
	var all []Length
	for _, row := range laid.Rows {
		for _, along := range sown[row.Number] {
			from, to := laid.Place(along[0], row.OffsetM), laid.Place(along[1], row.OffsetM)
			all = append(all, Length{row.Number, laid.Frame.ToEarth(from), laid.Frame.ToEarth(to), laid.Frame.GroundM(from, to)})
		}
	}
	return all, nil
}

// byRow parts lengths into those of each row.
func byRow(all []Length) (rows [][]Length) {
	for _, one := range all {
		if last := len(rows) - 1; last >= 0 && rows[last][0].Row == one.Row {
			rows[last] = append(rows[last], one)
			continue
		}
		rows = append(rows, []Length{one})
	}
	return slices.Clip(rows)
}
