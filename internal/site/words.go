package site

import (
	"html/template"
	"time"

	"rowtally/internal/bill"
	"rowtally/internal/unit"
)

// words are the functions that pages may call: how a measure is written, and no more.
func words() template.FuncMap {
	return template.FuncMap{
		"fixed":  unit.Grouped,                                               // number, decimals
		"whole":  func(v float64) string { return unit.Grouped(v, 0) },       // nearest whole
		"km":     func(m float64) string { return unit.Grouped(m/1000, 2) },  // metres as kilometres
		"ha":     func(m2 float64) string { return unit.Grouped(m2/1e4, 1) }, // square metres as hectares
		"kg":     func(g int64) string { return unit.Grouped(float64(g)/1000, 1) },
		"litres": func(ml int64) string { return unit.Grouped(float64(ml)/1000, 1) },
		"count":  func(n int64) string { return unit.Grouped(float64(n), 0) },
		"hours":  func(min int64) string { return unit.Grouped(float64(min)/60, 1) },
		"abn":    bill.FormatABN,
		"clock":  func(t time.Time) string { return t.Format("2 Jan 2006, 15:04") },
	}
}
