package paper

import (
	"math"

	"github.com/jung-kurt/gofpdf"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// frame puts a map's metres on the page.
type frame struct {
	xMM, yMM  float64 // of the map's west and north edge
	west, top float64 // metres
	mmHigh    float64
	mmPerM    float64
}

func (f frame) x(east job.Metres) float64  { return f.xMM + (float64(east)-f.west)*f.mmPerM }
func (f frame) y(north job.Metres) float64 { return f.yMM + (f.top-float64(north))*f.mmPerM }

// The plan picture's greatest size, and the room below it for scale and legend.
const (
	planWMM    = 58.0
	planHMM    = 38.0
	northWMM   = 7.0
	planFootMM = 12.0
)

// framed fits the map's outline into the picture, its west and north edges at x and y.
func framed(m job.Map, x, y float64) frame {
	f := fitted(m, planWMM-northWMM, planHMM)
	f.xMM, f.yMM = x, y
	return f
}

// fitted fits the map's outline into so much room, its west and north edges at 0.
func fitted(m job.Map, wideMM, highMM float64) frame {
	west, east, south, north := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, ring := range m.Outline {
		for _, corner := range ring {
			west, east = min(west, float64(corner[0])), max(east, float64(corner[0]))
			south, north = min(south, float64(corner[1])), max(north, float64(corner[1]))
		}
	}
	wide, high := max(east-west, 1), max(north-south, 1)
	scale := min(wideMM/wide, highMM/high)
	return frame{0, 0, west, north, high * scale, scale}
}

// mapMM is the height of the picture with what stands below it.
func mapMM(m job.Map) float64 { return framed(m, 0, 0).mmHigh + planFootMM }

// drawMap draws the plan picture: the paddock, what is not sown, rows planned and sown,
// north, and below them the scale bar and what the lines mean.
func (pr *Press) drawMap(p *pen, m job.Map, x, y float64) {
	f := framed(m, x, y)
	pr.drawGround(p, f, m)
	pr.north(p, x+planWMM-1.5, y+1)
	pr.scaleBar(p, f, x, y+f.mmHigh+5)
	pr.legend(p, m, x, y+f.mmHigh+10.5)
}

// drawGround draws the paddock, what is not sown of it, and its rows.
func (pr *Press) drawGround(p *pen, f frame, m job.Map) {
	for _, ring := range m.NoGo {
		p.hatched(f, ring)
	}
	p.ruled(soft, 0.25)
	for _, line := range m.NoGoLines {
		p.path(f, line)
	}
	for _, at := range m.NoGoPoints {
		p.dot(f.x(at[0]), f.y(at[1]), 0.7, soft)
	}
	p.stretches(f, m.Rows, soft, 0.12)
	p.ruled(soft, 0.12)
	for _, line := range m.Headland {
		p.path(f, line)
	}
	p.stretches(f, m.Sown, ink, 0.3)
	p.dashed(func() { p.stretches(f, m.Missed, ink, 0.3) })
	for _, ring := range m.Holes {
		p.pdf.SetFillColor(salt[0], salt[1], salt[2])
		p.ruled(soft, 0.2)
		p.pdf.Polygon(f.corners(ring), "DF")
	}
	p.ruled(bush, 0.4)
	for _, ring := range m.Outline {
		p.pdf.Polygon(f.corners(ring), "D")
	}
}

func (f frame) corners(ring job.Ring) []gofpdf.PointType {
	out := make([]gofpdf.PointType, len(ring))
	for i, corner := range ring {
		out[i] = gofpdf.PointType{X: f.x(corner[0]), Y: f.y(corner[1])}
	}
	return out
}

// path draws an open line.
func (p *pen) path(f frame, line job.Ring) {
	for i := 1; i < len(line); i++ {
		p.line(f.x(line[i-1][0]), f.y(line[i-1][1]), f.x(line[i][0]), f.y(line[i][1]))
	}
}

func (p *pen) stretches(f frame, all []job.Stretch, c colour, mm float64) {
	p.ruled(c, mm)
	for _, s := range all {
		p.line(f.x(s[0]), f.y(s[1]), f.x(s[2]), f.y(s[3]))
	}
}

// hatched draws a no-go area: slanting lines inside its outline.
func (p *pen) hatched(f frame, ring job.Ring) {
	corners := f.corners(ring)
	if len(corners) < 3 {
		return
	}
	left, right, top, bottom := corners[0].X, corners[0].X, corners[0].Y, corners[0].Y
	for _, c := range corners {
		left, right = min(left, c.X), max(right, c.X)
		top, bottom = min(top, c.Y), max(bottom, c.Y)
	}
	p.ruled(soft, 0.15)
	p.pdf.ClipPolygon(corners, true)
	for x := left - (bottom - top); x < right; x += 1.1 {
		p.line(x, bottom, x+bottom-top, top)
	}
	p.pdf.ClipEnd()
}

func (pr *Press) north(p *pen, x, y float64) {
	p.ruled(ink, 0.3)
	p.line(x, y, x, y+6)
	p.line(x, y, x-1.1, y+2)
	p.line(x, y, x+1.1, y+2)
	p.middle(pr.soft.at(7.5), x, y+9.2, "N")
}

// scaleBar draws a round length no longer than a third of the box.
func (pr *Press) scaleBar(p *pen, f frame, x, y float64) {
	metres := roundBelow(20 / f.mmPerM)
	end := x + metres*f.mmPerM
	p.ruled(ink, 0.3)
	p.line(x, y, end, y)
	p.line(x, y-0.9, x, y+0.9)
	p.line(end, y-0.9, end, y+0.9)
	p.write(pr.soft.at(7.5), end+1.6, y+0.9, unit.Grouped(metres, 0)+" m")
}

// roundBelow is the greatest of 1, 2, 5, 10, 20, 50 … that is not above v; 1 at least.
func roundBelow(v float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(max(v, 1))))
	for _, step := range []float64{5, 2} {
		if step*power <= v {
			return step * power
		}
	}
	return power
}

// legend says what the lines of the picture mean, each only where it is drawn.
func (pr *Press) legend(p *pen, m job.Map, x, y float64) {
	style := pr.soft.at(7.5)
	key := func(word string, sample func()) {
		sample()
		p.write(style, x+6.2, y, word)
		x += 6.2 + style.widthMM(word) + 4
	}
	if len(m.Rows) > 0 {
		key("planned", func() { p.ruled(soft, 0.12); p.line(x, y-1, x+5, y-1) })
	}
	if len(m.Sown) > 0 {
		key("sown", func() { p.ruled(ink, 0.4); p.line(x, y-1, x+5, y-1) })
	}
	if len(m.Missed) > 0 {
		key("missed", func() { p.dashed(func() { p.ruled(ink, 0.4); p.line(x, y-1, x+5, y-1) }) })
	}
	if len(m.NoGo) > 0 {
		key("no-go", func() {
			p.hatched(frame{xMM: x, yMM: y - 2.2, mmPerM: 1}, job.Ring{{0, 0}, {5, 0}, {5, -2.4}, {0, -2.4}})
		})
	}
}
