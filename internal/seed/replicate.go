package seed

import (
	"fmt"

	"rowtally/internal/fault"
)

// Replicate holds the counts of one replicate of a germination test, in seeds. Normal
// seedlings alone germinated in the sense of the rules. When any of the other four
// counts is given, one left out is 0 and all five must make up Seeds.
type Replicate struct {
	Seeds    int  `json:"seeds"`
	Normal   int  `json:"normal"`
	Abnormal *int `json:"abnormal,omitempty"`
	Hard     *int `json:"hard,omitempty"`  // took up no water
	Fresh    *int `json:"fresh,omitempty"` // took up water, did not germinate, still firm
	Dead     *int `json:"dead,omitempty"`
}

const (
	mostReplicates = 1000
	mostSeeds      = 10_000 // in one replicate
)

// check refuses counts that cannot be those of one replicate.
func (r Replicate) check() error {
	if r.Seeds < 1 || r.Seeds > mostSeeds {
		return fault.Refuse("seeds", "seeds is %d, enter the number put to germinate, from 1 to %d", r.Seeds, mostSeeds)
	}
	for _, c := range r.counts() {
		if c.count < 0 || c.count > r.Seeds {
			return fault.Refuse(c.name, "%s is %d of %d seeds, enter a count from 0 to %d", c.name, c.count, r.Seeds, r.Seeds)
		}
	}
	if sum := r.sum(); sum != r.Seeds && r.complete() {
		return fault.Refuse("", "normal %d + abnormal %d + hard %d + fresh %d + dead %d = %d, not %d: correct a count or the seeds",
			r.Normal, given(r.Abnormal), given(r.Hard), given(r.Fresh), given(r.Dead), sum, r.Seeds)
	}
	return nil
}

type namedCount struct {
	name  string
	count int
}

func (r Replicate) counts() []namedCount {
	return []namedCount{
		{"normal", r.Normal}, {"abnormal", given(r.Abnormal)}, {"hard", given(r.Hard)},
		{"fresh", given(r.Fresh)}, {"dead", given(r.Dead)},
	}
}

func (r Replicate) sum() (sum int) {
	for _, c := range r.counts() {
		sum += c.count
	}
	return sum
}

// complete tells whether the counts beside the normal seedlings were taken.
func (r Replicate) complete() bool {
	return r.Abnormal != nil || r.Hard != nil || r.Fresh != nil || r.Dead != nil
}

// live counts the seeds that are alive: those that germinated, and those still to.
func (r Replicate) live() int { return r.Normal + given(r.Hard) + given(r.Fresh) }

// germinatedPercent is the share of normal seedlings in %.
func (r Replicate) germinatedPercent() float64 {
	return 100 * float64(r.Normal) / float64(r.Seeds)
}

func given(count *int) int {
	if count == nil {
		return 0
	}
	return *count
}

// checkReplicates refuses a test without replicates, and names the replicate at fault.
func checkReplicates(replicates []Replicate) error {
	if n := len(replicates); n < 1 || n > mostReplicates {
		return fault.Refuse("replicates", "there are %d replicates, enter from 1 to %d", n, mostReplicates)
	}
	for i, r := range replicates {
		if err := r.check(); err != nil {
			return fault.Under(fmt.Sprintf("replicates[%d]", i), err)
		}
	}
	return nil
}
