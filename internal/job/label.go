package job

import (
	"fmt"
	"regexp"
	"strconv"
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

var labelled = regexp.MustCompile(`^(.+) (\S+)/([0-9]{1,6})$`)

// ReadTubLabel reads what a scanner found on a label, or a person typed: the code's whole
// text, or a lot's number alone. ok is false for an empty text.
func ReadTubLabel(text string) (l TubLabel, ok bool) {
	if parts := labelled.FindStringSubmatch(text); parts != nil {
		tub, err := strconv.Atoi(parts[3])
		return TubLabel{parts[1], parts[2], tub}, err == nil
	}
	return TubLabel{Lot: text}, text != ""
}
