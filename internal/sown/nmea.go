package sown

import (
	"fmt"
	"strconv"
	"strings"
)

// nmeaReader reads the sentences of a log and hands them to its epochs.
type nmeaReader struct {
	checked   bool // the log carries checksums
	unchecked int  // sentences taken without one
	statusD   int  // RMC sentences with status D
	epochs    epochs
	into      *gathering
}

// readNMEA reads RMC and GGA sentences of any talker, one fix an epoch, and the dates of ZDA
// sentences. Other sentences are passed over; a line that holds none, a wrong checksum, an invalid position and a
// sentence cut short are refused. Checksums may be missing only if no sentence has one.
func readNMEA(text string, into *gathering) error {
	r := nmeaReader{checked: strings.Contains(text, "*"), epochs: epochs{into: into}, into: into}
	for number, line := range lines(text) {
		r.takeLine(number, line)
	}
	r.epochs.end()
	if r.unchecked > 0 {
		into.note("no sentence of the log carries a checksum, %d were taken as they are", r.unchecked)
	}
	if r.statusD > 0 {
		into.note("%d RMC sentences have the status D and were taken for valid", r.statusD)
	}
	return nil
}

// takeLine takes every sentence of a line: a writer that was interrupted leaves two on one.
func (r *nmeaReader) takeLine(number int, line string) {
	start := strings.IndexByte(line, '$')
	if start < 0 {
		if line = strings.TrimSpace(line); line != "" && line[0] != '!' && line[0] != '#' {
			r.into.refuse(number, "it holds no NMEA sentence")
		}
		return
	}
	rest, more := line[start+1:], true
	for more {
		var text string
		text, rest, more = strings.Cut(rest, "$")
		r.takeSentence(number, text)
	}
}

// takeSentence takes what stands between a $ and the next, or the end of the line.
func (r *nmeaReader) takeSentence(line int, text string) {
	body, sum, summed := strings.Cut(text, "*")
	kind := kindOf(body)
	if kind == "" {
		if len(body) < len("GPRMC,") || !printable(body) {
			r.into.refuse(line, "it is cut short or no NMEA sentence")
		}
		return
	}
	why := r.checksum(body, strings.TrimSpace(sum), summed)
	if why == "" && kind == "ZDA" {
		r.takeDate(body)
		return
	}
	var s sentence
	if why == "" {
		s, why = readSentence(kind, body)
	}
	if why != "" {
		r.into.refuse(line, why)
		return
	}
	if s.line = line; s.disowned != "" {
		r.into.refuse(line, s.disowned)
	}
	if s.status == "D" {
		r.statusD++
	}
	r.epochs.take(s)
}

// takeDate takes the date of a ZDA sentence, and passes over one without: before it has
// satellites a receiver does not know the day.
func (r *nmeaReader) takeDate(body string) {
	if ofDay, date, known := readZDA(body); known {
		r.epochs.tell(ofDay, date)
	}
}

// kindOf is "RMC", "GGA" or "ZDA" when the address is two letters of a talker and one of these.
func kindOf(body string) string {
	if len(body) < 6 || body[5] != ',' {
		return ""
	}
	switch kind := body[2:5]; kind {
	case "RMC", "GGA", "ZDA":
		return kind
	}
	return ""
}

func printable(text string) bool {
	for i := range len(text) {
		if text[i] < ' ' || text[i] > '~' {
			return false
		}
	}
	return true
}

// checksum compares the exclusive-or of the bytes between $ and * with the two
// hexadecimal digits after the star.
func (r *nmeaReader) checksum(body, given string, summed bool) (why string) {
	if !summed && !r.checked {
		r.unchecked++
		return ""
	}
	if len(given) < 2 {
		return "its checksum is missing: the sentence is cut short"
	}
	want, err := strconv.ParseUint(given[:2], 16, 8)
	if sum := exclusiveOr(body); err != nil || uint64(sum) != want {
		return fmt.Sprintf("its checksum is %q, but the sentence adds up to %02X", given[:2], sum)
	}
	return ""
}

func exclusiveOr(text string) byte {
	sum := byte(0)
	for i := range len(text) {
		sum ^= text[i]
	}
	return sum
}
