package sown

import (
	"math"
	"strconv"
	"strings"

	"rowtally/internal/ground"
)

// take makes a fix of one line.
func (h *header) take(fields []string, line int, into *gathering) {
	fix := Fix{Line: line, SpeedMS: math.NaN(), HeadingDeg: notGiven}
	why := h.position(fields, &fix.At)
	if why == "" {
		why = h.motion(fields, &fix)
	}
	if why == "" {
		why = h.moment(fields, &fix, &into.clock)
	}
	if why == "" {
		why = h.flag(fields, &fix)
	}
	if why != "" {
		into.refuse(line, why)
		return
	}
	into.add(fix)
}

// value is what a line has in a column, empty where it has none.
func (h *header) value(fields []string, c column) string {
	if i := h.place[c]; i >= 0 && i < len(fields) {
		return strings.TrimSpace(fields[i])
	}
	return ""
}

func (h *header) position(fields []string, at *ground.LatLon) (why string) {
	if last := max(h.place[colLat], h.place[colLon]); last >= len(fields) {
		return "the line is cut short: it has " + strconv.Itoa(len(fields)) + " values"
	}
	var latFits, lonFits bool
	at.Lat, latFits = decimal(h.value(fields, colLat))
	at.Lon, lonFits = decimal(h.value(fields, colLon))
	if !latFits {
		return notANumber("latitude", h.value(fields, colLat))
	}
	if !lonFits {
		return notANumber("longitude", h.value(fields, colLon))
	}
	var northFits, eastFits bool
	at.Lat, northFits = onSide(at.Lat, h.value(fields, colNorth), "N", "S")
	at.Lon, eastFits = onSide(at.Lon, h.value(fields, colEast), "E", "W")
	if !northFits || !eastFits {
		return "the columns N/S and E/W hold " + strconv.Quote(shortened(h.value(fields, colNorth)+h.value(fields, colEast))) + ", not N or S, and E or W, beside degrees without a sign"
	}
	return ""
}

// onSide gives degrees the sign of their side, where a column tells it.
func onSide(degrees float64, side, positive, negative string) (float64, bool) {
	switch {
	case side == "":
		return degrees, true
	case strings.EqualFold(side, negative):
		return -degrees, degrees >= 0
	}
	return degrees, strings.EqualFold(side, positive) && degrees >= 0
}

func (h *header) motion(fields []string, fix *Fix) (why string) {
	if text := h.value(fields, colSpeed); text != "" {
		speed, fits := decimal(text)
		if !fits || speed < 0 {
			return notANumber("speed", text)
		}
		fix.SpeedMS = speed * h.speedMS
	}
	if text := h.value(fields, colHeading); text != "" {
		heading, fits := decimal(text)
		if !fits || heading < 0 || heading > 360 {
			return "heading_deg is " + strconv.Quote(shortened(text)) + ", not 0 to 360"
		}
		fix.HeadingDeg = float32(heading)
	}
	return ""
}

func (h *header) moment(fields []string, fix *Fix, clock *clock) (why string) {
	text := h.value(fields, colTime)
	if text == "" {
		fix.Time, _ = clock.read(h.value(fields, colDate))
		return ""
	}
	moment, fits := clock.read(text)
	if !fits {
		moment, fits = clock.readApart(h.value(fields, colDate), text)
	}
	if !fits {
		return notAMoment(strings.TrimSpace(h.value(fields, colDate) + " " + text))
	}
	fix.Time = moment
	return ""
}

func (h *header) flag(fields []string, fix *Fix) (why string) {
	text := h.value(fields, colSowing)
	switch {
	case text == "":
	case text == "1", strings.EqualFold(text, "on"), strings.EqualFold(text, "true"):
		fix.Sowing = Sowing
	case text == "0", strings.EqualFold(text, "off"), strings.EqualFold(text, "false"):
		fix.Sowing = Lifted
	default:
		return "sowing is " + strconv.Quote(shortened(text)) + ", not 1 or 0, on or off, true or false"
	}
	return ""
}

// powersOfTen are exact in a float64.
var powersOfTen = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

// shortDecimal reads a plain decimal of at most 15 digits, and says false for any other
// text. Its digits and its power of ten are both exact, so their one division rounds as
// strconv does.
func shortDecimal(text string) (number float64, fits bool) {
	start := 0
	if text != "" && text[0] == '-' {
		start = 1
	}
	count, decimals, whole := 0, 0, uint64(0)
	for i := start; i < len(text); i++ {
		switch digit := text[i] - '0'; {
		case digit <= 9:
			whole, count = 10*whole+uint64(digit), count+1
		case text[i] == '.' && decimals == 0 && i+1 < len(text):
			decimals = len(text) - i - 1
		default:
			return 0, false
		}
	}
	if count == 0 || count > 15 {
		return 0, false
	}
	if number = float64(whole) / powersOfTen[decimals]; start == 1 {
		number = -number
	}
	return number, true
}

// decimal reads a finite number.
func decimal(text string) (float64, bool) {
	if number, fits := shortDecimal(text); fits {
		return number, true
	}
	number, err := strconv.ParseFloat(text, 64)
	return number, err == nil && !math.IsNaN(number) && !math.IsInf(number, 0)
}

func notANumber(name, text string) string {
	if text == "" {
		return name + " is empty"
	}
	return name + " is " + strconv.Quote(shortened(text)) + ", not a number"
}

func notAMoment(text string) string {
	return "time is " + strconv.Quote(shortened(text)) + ", not like 2026-07-20T09:30:00Z"
}

// shortened keeps a sentence short when what it quotes is long.
func shortened(text string) string {
	const most = 60
	if len(text) <= most {
		return text
	}
	return text[:most] + "…"
}
