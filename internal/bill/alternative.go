package bill

import (
	"fmt"
	"slices"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// Letters name the alternatives that one quote may offer. The first is the job's own, and its
// lines are the quote's own.
var Letters = []string{"A", "B", "C"}

// Alternative is one of several that a quote offers beside each other, as issued. One of them
// is done, the one that the yes names: nothing adds up over alternatives.
type Alternative struct {
	Letter     string  // one of Letters
	Name       string  // as the farmer reads it, "wider alleys"
	Says       string  // its rows, seed and prices, where they are not as in A
	Placements int64   // along its rows; 0 without rows
	AlleyHa    float64 // hectares of alley
	GrossHa    float64 // hectares of the paddock

	Settings string `json:",omitempty"` // JSON of what the yes makes the job's own; empty for A, which the job has
	Cost     string `json:",omitempty"` // JSON of what it was planned to cost; empty where that was not known, and for A

	Offered // of A all empty: it is the quote's own
}

// Offered is what an alternative offers in the place of the quote's own: what it rests on, its lines
// and their totals.
type Offered struct {
	RowM        float64
	Basis       string
	Map         string
	Particulars []Particular
	Lines       []PaperLine
	Lots        []PaperLot

	NetTotal money.Cents
	TaxTotal money.Cents
	Total    money.Cents
}

// OfferOf is a paper as one of the alternatives of another.
func OfferOf(p Paper) Offered {
	return Offered{p.RowM, p.Basis, p.Map, p.Particulars, p.Lines, p.Lots, p.NetTotal, p.TaxTotal, p.Total}
}

// Titled is an alternative's letter and name, "B, wider alleys".
func (w Alternative) Titled() string { return w.Letter + ", " + w.Name }

// Own tells whether it is the job's own alternative, whose lines are the quote's.
func (w Alternative) Own() bool { return w.Letter == Letters[0] }

// By is the paper in one of its alternatives, by itself: with the rows, lines, lots and totals
// of that one. It refuses a letter that the paper does not offer, and none where it offers several ("alternative").
func (p Paper) By(letter string) (Paper, error) {
	if len(p.Alternatives) == 0 && letter == "" {
		return p, nil
	}
	i := slices.IndexFunc(p.Alternatives, func(w Alternative) bool { return w.Letter == letter })
	switch {
	case len(p.Alternatives) == 0:
		return p, fault.Refuse("alternative", "%s offers no alternatives, there is no %s to say yes to", p.Number, letter)
	case i < 0:
		return p, fault.Refuse("alternative", "%s offers several alternatives, choose the one that you say yes to: %s", p.Number, strings.Join(p.Titles(), "; "))
	}
	return p.as(p.Alternatives[i]), nil
}

// as is the paper in one of its alternatives.
func (p Paper) as(w Alternative) Paper {
	p.Alternative, p.Alternatives = w.Titled(), nil
	if !w.Own() {
		p.RowM, p.Basis, p.Map, p.Particulars, p.Lines, p.Lots = w.RowM, w.Basis, w.Map, w.Particulars, w.Lines, w.Lots
		p.NetTotal, p.TaxTotal, p.Total = w.NetTotal, w.TaxTotal, w.Total
	}
	return p
}

// Letter is that of the alternative that a paper is in by itself, "B"; "" where it offers none.
func (p Paper) Letter() string {
	letter, _, _ := strings.Cut(p.Alternative, ",")
	return letter
}

// Titles are the letters and names of a paper's alternatives.
func (p Paper) Titles() (titles []string) {
	for _, w := range p.Alternatives {
		titles = append(titles, w.Titled())
	}
	return titles
}

// AlternativePaper is one alternative of a paper, with the paper in that alternative.
type AlternativePaper struct {
	Alternative
	Paper Paper
}

// Apart are the alternatives of a paper, each by itself; none where it offers one alone.
func (p Paper) Apart() (apart []AlternativePaper) {
	for _, w := range p.Alternatives {
		apart = append(apart, AlternativePaper{w, p.as(w)})
	}
	return apart
}

// Otherwise are the particulars of an alternative that are not stated of A in the same words,
// nor in the sentence by which it differs.
func (p Paper) Otherwise(w Alternative) []Particular {
	if !w.Own() && w.Basis != "" && w.Basis != p.Basis {
		w.Particulars = append([]Particular{{"Row-km", w.Basis}}, w.Particulars...)
	}
	return slices.DeleteFunc(slices.Clone(w.Particulars), func(one Particular) bool {
		return slices.Contains(p.Particulars, one) || strings.Contains(w.Says, one.Text)
	})
}

// alternativesAddUp tells what is wrong with a paper's alternatives; nil where nothing is. They are named from
// A without a gap, at least two of them, and each adds up by itself.
func (p Paper) alternativesAddUp() error {
	if len(p.Alternatives) == 0 {
		return nil
	}
	if p.Kind != Quote || len(p.Alternatives) == 1 || len(p.Alternatives) > len(Letters) {
		return fmt.Errorf("the %s offers %d alternatives, and only a quote offers any, from 2 to %d", p.Kind, len(p.Alternatives), len(Letters))
	}
	for i, w := range p.Alternatives {
		if w.Letter != Letters[i] || strings.TrimSpace(w.Name) == "" {
			return fmt.Errorf("alternative %d is named %q, %q and not %s with a name of its own", i+1, w.Letter, w.Name, Letters[i])
		}
		if w.Own() {
			continue
		}
		if err := p.as(w).AddsUp(); err != nil {
			return fmt.Errorf("alternative %s: %w", w.Letter, err)
		}
	}
	return nil
}

// PerHa is the total of an alternative for each hectare of the paddock, to the cent; ok is false where
// its hectares are not known.
func (w AlternativePaper) PerHa() (each money.Cents, ok bool) {
	ha := money.FactorOf(w.GrossHa, 4)
	if ha.Sign() <= 0 {
		return 0, false
	}
	return w.Paper.Total.Factor().Over(ha, 2).Cents(), true
}

// PlacementsPerHa are its placements on each hectare of the paddock; 0 without rows.
func (w Alternative) PlacementsPerHa() float64 {
	if w.GrossHa <= 0 {
		return 0
	}
	return float64(w.Placements) / w.GrossHa
}

// InAlternative names the alternative that a yes is to, for the middle of a sentence; "" for
// a quote that offers one.
func (a Acceptance) InAlternative() string {
	if a.Alternative == "" {
		return ""
	}
	return " in alternative " + a.Alternative
}
