package paper

import (
	"image/color"

	"github.com/boombuler/barcode"
	"github.com/boombuler/barcode/qr"
)

// quietModules is the white border that ISO/IEC 18004 asks for around a QR code.
const quietModules = 4

// qrCode draws a text as a QR code of error correction level M into a square of mm with its
// quiet zone, from its top left. It fails on a text that no QR code holds.
func (p *pen) qrCode(text string, x, y, mm float64) error {
	code, err := qr.Encode(text, qr.M, qr.Auto)
	if err != nil {
		return err
	}
	modules := code.Bounds().Dx()
	side := mm / float64(modules+2*quietModules)
	p.pdf.SetFillColor(white[0], white[1], white[2])
	p.pdf.Rect(x, y, mm, mm, "F")
	p.pdf.SetFillColor(0, 0, 0)
	for row := range modules {
		for _, run := range darkRuns(code, row, modules) {
			left, top := float64(run[0]+quietModules)*side, float64(row+quietModules)*side
			p.pdf.Rect(x+left, y+top, float64(run[1]-run[0])*side, side, "F")
		}
	}
	return nil
}

// darkRuns are the stretches of dark modules of a row, each from one module to before another.
func darkRuns(code barcode.Barcode, row, modules int) (runs [][2]int) {
	from := -1
	for column := range modules + 1 {
		dark := column < modules && code.At(column, row) == color.Black
		if dark && from < 0 {
			from = column
		}
		if !dark && from >= 0 {
			runs, from = append(runs, [2]int{from, column}), -1
		}
	}
	return runs
}
