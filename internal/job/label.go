package job

import (
	"fmt"
	"strconv"
	"strings"
)

// TubLabel is what the code on a tub's label says: which lot was weighed in, for which tub of
// which job.
type TubLabel struct {
	Lot string // code
	Job string // code
	Tub int
}

// Text is what the code holds: the lot's number first, so that it can be read off it alone.
func (l TubLabel) Text() string { return fmt.Sprintf("%s %s/%d", l.Lot, l.Job, l.Tub) }

// ReadTubLabel reads what a scanner found on a label, or a person typed: the code's whole
// text, or a lot's number alone. ok is false for an empty text.
func ReadTubLabel(text string) (l TubLabel, ok bool) {
	if at := strings.LastIndexByte(text, ' '); at > 0 {
		code, number, _ := strings.Cut(text[at+1:], "/")
		if tub, err := strconv.ParseUint(number, 10, 20); err == nil && code != "" {
			return TubLabel{text[:at], code, int(tub)}, true
		}
	}
	return TubLabel{Lot: text}, text != ""
}

// Mistaken says why what was read off a bag must not go into the tub that is filled; ""
// when it is right. A lot typed alone is right for every tub.
func (l TubLabel) Mistaken(read string) string {
	was, ok := ReadTubLabel(strings.TrimSpace(read))
	switch {
	case !ok:
		return fmt.Sprintf("Type what the label says. The tub wants %s.", l.Lot)
	case typed(was.Lot) != typed(l.Lot):
		return fmt.Sprintf("Stop: that is %s. The tub wants %s. Put it back, and take the right bag.", was.Lot, l.Lot)
	case was.Job != "" && (was.Job != l.Job || was.Tub != l.Tub):
		return fmt.Sprintf("Stop: that bag of %s was weighed for tub %d of %s, and this is tub %d of %s. Weigh it again, or take the right bag.",
			l.Lot, was.Tub, was.Job, l.Tub, l.Job)
	}
	return ""
}

// typed is a code without what gloves get wrong: capitals, blanks and dashes.
func typed(code string) string {
	return strings.NewReplacer(" ", "", "-", "", "–", "").Replace(strings.ToUpper(code))
}
