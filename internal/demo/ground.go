package demo

import (
	"fmt"
	"math"
	"strings"

	"rowtally/internal/ground"
	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// visit keeps what a site visit read of a job's paddock: the subsoil's salt, sampled on
// the day near the paddock's middle, and the winter watertable as it stood in a month.
func (b *builder) visit(jobID int64, on unit.Date, eceDSm, winterM float64, winter ground.Taken) {
	f := b.facts(jobID, on)
	if b.failed != nil {
		return
	}
	survey, err := job.Survey(f.Paddock)
	b.keep("survey", err)
	dug := ground.NewFrame(survey.Shape.Centre()).ToEarth(ground.Point{E: -70, N: 60})
	salt := ground.Reading{PaddockID: f.Paddock.ID, Kind: ground.ECe, Value: eceDSm, Unit: ground.DeciSiemens, FromCM: 25, ToCM: 50,
		TakenOn: ground.Taken(on), Method: "saturation extract, laboratory", SaidBy: "ourselves", Lat: &dug.Lat, Lon: &dug.Lon}
	water := ground.Reading{PaddockID: f.Paddock.ID, Kind: ground.WinterWatertable, Value: winterM, Unit: ground.Metres,
		TakenOn: winter, Method: "hand auger hole", SaidBy: f.Farm.Contact}
	for _, reading := range []ground.Reading{salt, water} {
		_, err := b.books.AddReading(b.ctx, b.at(on), reading)
		b.keep("reading", err)
	}
}

// levelled reads heights into a job's paddock: a grid that falls by so many percent
// towards a bearing, with a ripple of 3 cm for what a plane is not.
func (b *builder) levelled(jobID int64, on unit.Date, fallPercent, towardsDeg float64) {
	f := b.facts(jobID, on)
	if b.failed != nil {
		return
	}
	survey, err := job.Survey(f.Paddock)
	b.keep("survey", err)
	frame := ground.NewFrame(survey.Shape.Centre())
	sin, cos := math.Sincos(towardsDeg * math.Pi / 180)
	var lines strings.Builder
	for i := range 16 {
		at := ground.Point{E: float64(i%4)*90 - 135, N: float64(i/4)*90 - 135}
		height := 22 - fallPercent/100*(at.E*sin+at.N*cos) + 0.03*math.Sin(float64(7*i))
		place := frame.ToEarth(at)
		fmt.Fprintf(&lines, "%.6f, %.6f, %.2f\n", place.Lat, place.Lon, height)
	}
	b.keep("heights", job.ReadHeights(&f.Paddock, "levels walked with the receiver", []byte(lines.String())))
	b.keep("heights", b.books.ChangePaddock(b.ctx, b.at(on), f.Paddock))
}
