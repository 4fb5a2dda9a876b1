package count

import (
	"cmp"
	"slices"

	"rowtally/internal/fault"
	"rowtally/internal/unit"
)

// Extent is a length of one row that was sown, in metres along it.
type Extent struct {
	Row        int
	FromM, ToM float64
}

// Drawn is where a stretch begins: its row, and the metres along it.
type Drawn struct {
	Row   int
	FromM float64
}

// Draw draws n stretches of a length at random from sown rows. Every extent is parted into
// whole stretches end to end, shifted by chance within what is left over; of all of them n
// are drawn, each as likely as any other and none twice. Lengths shorter than a stretch are
// left out. They come back in the order of walking: row by row, up one and down the next.
// Rows that hold fewer stretches than n are refused.
func Draw(sown []Extent, lengthM float64, n int, chance *Chance) ([]Drawn, error) {
	if n < 1 || !(lengthM > 0) {
		return nil, fault.Refuse("within_percent", "%d stretches of %s m are asked for, ask for at least one", n, unit.Plain(lengthM))
	}
	var all []Drawn
	for _, e := range sown {
		whole := int((e.ToM - e.FromM) / lengthM)
		shift := chance.fraction() * (e.ToM - e.FromM - float64(whole)*lengthM)
		for i := range whole {
			all = append(all, Drawn{e.Row, e.FromM + shift + float64(i)*lengthM})
		}
	}
	if len(all) < n {
		return nil, fault.Refuse("within_percent", "the rows sown hold %d stretches of %s m and %d are wanted: allow a wider error, or count fewer placements in a stretch", len(all), unit.Plain(lengthM), n)
	}
	for i := range n { // the front of a shuffle
		k := i + chance.below(len(all)-i)
		all[i], all[k] = all[k], all[i]
	}
	return walked(all[:n]), nil
}

// walked puts stretches in the order in which they are walked.
func walked(drawn []Drawn) []Drawn {
	slices.SortFunc(drawn, func(a, b Drawn) int { return cmp.Or(cmp.Compare(a.Row, b.Row), cmp.Compare(a.FromM, b.FromM)) })
	down := false
	for from := 0; from < len(drawn); {
		to := from + 1
		for to < len(drawn) && drawn[to].Row == drawn[from].Row {
			to++
		}
		if down {
			slices.Reverse(drawn[from:to])
		}
		from, down = to, !down
	}
	return drawn
}
