package site

import (
	"html/template"
	"strconv"
	"time"

	"rowtally/internal/bill"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// words are the functions that pages may call: how a measure is written, and no more.
func words(asset func(string) string) template.FuncMap {
	return template.FuncMap{
		"asset":  asset,                                                      // path of a built file by its plain name
		"fixed":  unit.Grouped,                                               // number, decimals
		"whole":  func(v float64) string { return unit.Grouped(v, 0) },       // nearest whole
		"km":     func(m float64) string { return unit.Grouped(m/1000, 2) },  // metres as kilometres
		"ha":     func(m2 float64) string { return unit.Grouped(m2/1e4, 1) }, // square metres as hectares
		"inKg":   func(g float64) string { return unit.Grouped(g/1000, 2) },  // grams as kilograms
		"kg":     amount,                                                     // from grams
		"litres": amount,                                                     // from millilitres
		"count":  func(n int) string { return unit.Grouped(float64(n), 0) },
		"hours":  hoursOf,
		"grams":  func(g int64) string { return unit.Grouped(float64(g), 0) },
		"share":  func(fraction float64) string { return unit.Grouped(100*fraction, 1) }, // as a percentage
		"abn":    bill.FormatABN,
		"moved":  moved,
		"signed": signed,
		"seeds":  seedsOf,
		"plan":   func(text string) *sketch { return sketchOfText(text, besideLink) }, // a paper's picture, small
		"nth":    func(i int) int { return i + 1 },
		"day":    func(t time.Time) string { return t.Format("2 Jan 2006") },
		"clock":  func(t time.Time) string { return t.Format("2 Jan 2006, 15:04") },
	}
}

// hoursOf writes whole minutes as hours, in tenths as meters show them.
func hoursOf(minutes int64) string { return unit.Grouped(float64(minutes)/60, 1) }

// moved writes a movement of stock with its sign, from thousandths: a scale's grams show.
func moved(thousandths int64) string {
	const decimals = 3
	shown := unit.Grouped(float64(thousandths)/1000, decimals)
	if thousandths > 0 {
		return "+" + shown
	}
	return shown
}

// signed writes a difference of money with its sign.
func signed(c money.Cents) string {
	if c > 0 {
		return "+" + c.Shown()
	}
	return c.Shown()
}

// seedsOf writes a count that a certificate may leave out.
func seedsOf(count *int) string {
	if count == nil {
		return "–"
	}
	return strconv.Itoa(*count)
}
