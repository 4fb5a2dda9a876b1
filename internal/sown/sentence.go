package sown

import (
	"fmt"
	"math"
	"strings"
	"time"

	"rowtally/internal/ground"
)

// sentence is what one RMC or GGA sentence of NMEA 0183 tells of an epoch.
type sentence struct {
	line       int
	kind       string        // "RMC" or "GGA"
	status     string        // RMC's status, GGA's fix quality
	ofDay      time.Duration // since midnight UTC
	at         ground.LatLon
	speedMS    float64   // NaN where the sentence has none
	headingDeg float64   // NaN where the sentence has none
	date       time.Time // zero where the sentence has none
	reckoned   bool      // the receiver's dead reckoning
	disowned   string    // why the receiver itself calls the position invalid
}

// fieldsOfSentence bounds how many fields of a sentence are looked at.
const fieldsOfSentence = 14

// readSentence reads the body of a sentence. A position that the receiver disowns is
// given back as such; what cannot be read gives the reason.
func readSentence(kind, body string) (s sentence, why string) {
	var f [fieldsOfSentence]string
	for i := 0; i < len(f) && body != ""; i++ {
		f[i], body, _ = strings.Cut(body, ",")
	}
	s = sentence{kind: kind, speedMS: math.NaN(), headingDeg: math.NaN()}
	position := f[2:6]
	if kind == "RMC" {
		position = f[3:7]
		s.readRMC(f[2], f[12])
	} else {
		s.readQuality(f[6])
	}
	ofDay, fits := timeOfDay(strings.TrimSpace(f[1]))
	if s.ofDay = ofDay; !fits {
		return s, fmt.Sprintf("its time is %q, not hhmmss", shortened(f[1]))
	}
	if s.disowned != "" {
		return s, ""
	}
	if kind == "RMC" {
		s.readMotion(f[7], f[8], f[9])
	}
	return s, s.readPosition(position)
}

// readRMC reads status and, where the receiver gives one, mode.
func (s *sentence) readRMC(status, mode string) {
	s.status, s.reckoned = status, mode == "E"
	switch {
	case status == "V":
		s.disowned = "the receiver calls it invalid (status V)"
	case status != "A" && status != "D":
		s.disowned = fmt.Sprintf("its status is %q, neither A nor V", shortened(status))
	case mode == "N":
		s.disowned = "the receiver calls it invalid (mode N)"
	}
}

// readQuality reads the fix quality of a GGA: 0 is no fix, 6 dead reckoning, 8 the highest.
func (s *sentence) readQuality(quality string) {
	s.status, s.reckoned = quality, quality == "6"
	switch {
	case quality == "0":
		s.disowned = "the receiver has no fix (quality 0)"
	case len(quality) != 1 || quality < "1" || quality > "8":
		s.disowned = fmt.Sprintf("its fix quality is %q, not 0 to 8", shortened(quality))
	}
}

// readMotion reads speed in knots, course and date (ddmmyy). What is unreadable counts as
// not given: the position stands without it.
func (s *sentence) readMotion(knots, course, date string) {
	if speed, fits := decimal(knots); fits && speed >= 0 {
		s.speedMS = speed * msPerKnot
	}
	if heading, fits := decimal(course); fits && heading >= 0 && heading <= 360 {
		s.headingDeg = heading
	}
	s.date = dateOf(date)
}

// dateOf is the midnight UTC of ddmmyy, 1969 to 2068; zero where that is no date.
func dateOf(text string) time.Time {
	if len(text) != 6 {
		return time.Time{}
	}
	day, month, year := twoDigits(text), twoDigits(text[2:]), twoDigits(text[4:])
	century := 2000
	if year > 68 {
		century = 1900
	}
	if year > 99 {
		return time.Time{}
	}
	return midnightOf(century+year, month, day)
}

// midnightOf is the first moment UTC of a day; zero where there is no such day.
func midnightOf(year, month, day int) time.Time {
	date := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	if date.Day() != day || date.Month() != time.Month(month) {
		return time.Time{}
	}
	return date
}

// A receiver that has not heard of the day writes the one from which its weeks count, in 1980.
const earliestYear = 1981

// readZDA reads hhmmss,dd,mm,yyyy of a ZDA sentence: a time of day and the midnight UTC of its day.
func readZDA(body string) (ofDay time.Duration, date time.Time, known bool) {
	f := strings.SplitN(body, ",", 6)
	if len(f) < 5 || len(f[2]) != 2 || len(f[3]) != 2 || len(f[4]) != 4 {
		return 0, date, false
	}
	ofDay, known = timeOfDay(strings.TrimSpace(f[1]))
	year := 100*twoDigits(f[4]) + twoDigits(f[4][2:])
	if date = midnightOf(year, twoDigits(f[3]), twoDigits(f[2])); year < earliestYear || year > 9999 {
		return 0, date, false
	}
	return ofDay, date, known && !date.IsZero()
}

func (s *sentence) readPosition(f []string) (why string) {
	var latFits, lonFits bool
	s.at.Lat, latFits = degreesAndMinutes(f[0], f[1], "N", "S")
	s.at.Lon, lonFits = degreesAndMinutes(f[2], f[3], "E", "W")
	if !latFits || !lonFits {
		return fmt.Sprintf("its position is %q, not like 3624.1234,S,14006.1234,E", shortened(strings.Join(f, ",")))
	}
	return ""
}

// degreesAndMinutes reads dddmm.mmmm with its hemisphere into degrees.
func degreesAndMinutes(text, hemisphere, positive, negative string) (float64, bool) {
	number, fits := digits(text)
	degrees := math.Floor(number / 100)
	minutes := number - 100*degrees
	degrees += minutes / 60
	switch {
	case !fits || minutes >= 60:
		return 0, false
	case hemisphere == positive:
		return degrees, true
	}
	return -degrees, hemisphere == negative
}

// timeOfDay reads hhmmss with or without a fraction. A leap second is the next minute's
// first.
func timeOfDay(text string) (time.Duration, bool) {
	number, fits := digits(text)
	whole, _, _ := strings.Cut(text, ".")
	if !fits || len(whole) != 6 {
		return 0, false
	}
	clock := int(number)
	hours, minutes, seconds := clock/10000, clock/100%100, clock%100
	fraction := time.Duration(math.Round((number-float64(clock))*1e6)) * time.Microsecond
	ofDay := time.Duration(hours)*time.Hour + time.Duration(minutes)*time.Minute + time.Duration(seconds)*time.Second + fraction
	return ofDay, hours < 24 && minutes < 60 && seconds <= 60
}

// digits reads an unsigned decimal without an exponent.
func digits(text string) (float64, bool) {
	if number, fits := shortDecimal(text); fits && text[0] != '-' {
		return number, true
	}
	for i := range len(text) {
		if (text[i] < '0' || text[i] > '9') && text[i] != '.' {
			return 0, false
		}
	}
	return decimal(text)
}
