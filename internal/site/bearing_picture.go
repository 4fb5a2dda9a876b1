package site

import (
	"fmt"
	"math"
	"strings"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// bearingPicture is the sweep over bearings as one picture: a panel a figure over the same
// bearings, the allowed ones shaded, the best few and the present one marked.
type bearingPicture struct {
	Width, Height, Foot float64
	Ticks               []bearingTick
	Bands               []bearingBand
	Panels              []bearingPanel
	Picks               []bearingTick
	Now                 bearingTick
}

type bearingTick struct {
	X     float64
	Label string
}

type bearingBand struct{ X, Width float64 }

type bearingPanel struct {
	Says, High, Low         string
	SaysY, HighY, LowY, Top float64
	Base                    float64
	D                       string
}

const (
	bearingLeft, bearingRight = 44.0, 626.0
	bearingPanelH, bearingGap = 84.0, 38.0
	bearingTop                = 48.0
)

func bearingX(deg float64) float64 { return bearingLeft + (bearingRight-bearingLeft)*deg/180 }

func bearingPictureOf(b job.Bearings) *bearingPicture {
	p := &bearingPicture{Width: 640}
	for deg := 0.0; deg <= 180; deg += 45 {
		p.Ticks = append(p.Ticks, bearingTick{bearingX(deg), fmt.Sprintf("%.0f°", deg)})
	}
	p.addPanel("row-km", b.All, 1, func(one job.Bearing) float64 { return one.RowM / 1000 })
	p.addPanel("turns", b.All, 0, func(one job.Bearing) float64 { return float64(one.Turns) })
	p.addPanel("mean length of a row, m", b.All, 0, func(one job.Bearing) float64 { return one.MeanSpanM })
	if b.Fall != nil {
		p.addPanel("fall along the rows, %", b.All, 2, func(one job.Bearing) float64 { return one.FallPercent })
		p.addBands(b.All)
	}
	if b.Wish.MachineM > 0 {
		p.addPanel("alley ground in part passes, %", b.All, 1, job.Bearing.PartPercent)
	}
	if b.Weighed() {
		p.addPanel("score, of 100", b.All, 0, func(one job.Bearing) float64 { return one.Score })
	}
	p.Foot = bearingTop + float64(len(p.Panels))*(bearingPanelH+bearingGap) - bearingGap
	p.Height = p.Foot + 24
	for i, best := range b.Best {
		p.Picks = append(p.Picks, bearingTick{bearingX(best.BearingDeg), fmt.Sprint(i + 1)})
	}
	p.Now = bearingTick{bearingX(math.Mod(b.Layout.BearingDeg, 180)), "as laid"}
	return p
}

// addPanel draws one figure over the bearings, between its least and its most.
func (p *bearingPicture) addPanel(says string, all []job.Bearing, decimals int, figure func(job.Bearing) float64) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, one := range all {
		low, high = min(low, figure(one)), max(high, figure(one))
	}
	top := bearingTop + float64(len(p.Panels))*(bearingPanelH+bearingGap)
	span := max(high-low, 1e-9)
	var path strings.Builder
	for i, one := range all {
		path.WriteByte("ML"[min(i, 1)])
		fmt.Fprintf(&path, "%.1f %.1f", bearingX(one.BearingDeg), top+bearingPanelH*(1-(figure(one)-low)/span))
	}
	p.Panels = append(p.Panels, bearingPanel{
		Says: says, High: unit.Grouped(high, decimals), Low: unit.Grouped(low, decimals),
		SaysY: top - 8, HighY: top + 5, LowY: top + bearingPanelH + 4, Top: top, Base: top + bearingPanelH, D: path.String(),
	})
}

// addBands shades runs of bearings whose fall is within the wish, where not all are.
func (p *bearingPicture) addBands(all []job.Bearing) {
	half, width := 0.5, bearingX(1)-bearingX(0)
	for i := 0; i < len(all); i++ {
		if !all[i].Allowed {
			continue
		}
		from := i
		for i < len(all) && all[i].Allowed {
			i++
		}
		p.Bands = append(p.Bands, bearingBand{max(bearingLeft, bearingX(all[from].BearingDeg-half)), width * float64(i-from)})
	}
}
