package job

import (
	"strconv"

	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// ChainLink is one link of a job's chain as a page shows it: a headline figure with its
// working, a sentence, and what to do there.
type ChainLink struct {
	Name    string // "Ground"
	Anchor  string // "ground"
	State   LinkState
	Figures []Figure
	Says    string
	Warning string // what is wrong with it now
	Seed    []SeedLine
	Working working.Steps
	Doings  []Next
}

// LinkState tells where the work stands at a link.
type LinkState string

const (
	Kept LinkState = "kept" // what the link needs is there
	Now  LinkState = "now"  // the next thing to do is here
	Open LinkState = "open" // still to come
)

// Figure is a headline figure with its unit.
type Figure struct{ Value, Unit string }

// Next is something to do, and the page where it is done.
type Next struct{ Label, Path string }

// figure writes a headline figure.
func figure(v float64, decimals int, unitName string) Figure {
	return Figure{unit.Grouped(v, decimals), unitName}
}

func (f Facts) path(rest string) string {
	return "/jobs/" + strconv.FormatInt(f.Job.ID, 10) + rest
}

// percent writes a percentage to a tenth, without a needless ".0".
func percent(v float64) string {
	s := strconv.FormatFloat(v, 'f', 1, 64)
	if len(s) > 2 && s[len(s)-2:] == ".0" {
		return s[:len(s)-2]
	}
	return s
}

// km writes metres of row as row-km to ten metres.
func km(m float64) string { return unit.Grouped(m/1000, 2) }
