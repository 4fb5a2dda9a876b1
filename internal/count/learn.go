package count

import (
	"cmp"
	"math"
	"slices"

	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// Sown is what one placement was sown with.
type Sown struct {
	Species          string
	Form             string // "fruit, bracts on"
	Treatment        string // of the seed before sowing; "" for none
	LivePerPlacement float64
}

// Lesson is the share of live seeds that became plants, as one count showed it for one
// species. Variance is of its natural logarithm, by the count alone.
type Lesson struct {
	Job      string // code
	Season   int
	Kind     Kind
	On       unit.Date
	Ground   string // class of the subsoil's salt; "" while not read
	Sown     Sown
	Shared   bool // species were not told apart: all are taken to become plants alike
	Fraction float64
	Variance float64
}

// Lessons works out what a count teaches, by the law that fills placements: λ = -ln(1 - p)
// plants to a placement, over its live seeds. Where each species' placements were counted,
// p is the species' own; else p is of all together and every species is taken to become
// plants alike. A count with nothing occupied, or everything, is taken half a placement
// inside. A species sown without live seed teaches nothing.
func Lessons(e Estimate, sown []Sown, seen []Seen) []Lesson {
	all := 0.0
	for _, s := range sown {
		all += s.LivePerPlacement
	}
	var out []Lesson
	for _, s := range sown {
		share, live, shared := e.ShareFraction, all, len(sown) > 1
		for _, one := range seen {
			if one.Species == s.Species {
				share, live, shared = float64(one.Placements)/float64(e.Placements), s.LivePerPlacement, false
			}
		}
		if s.LivePerPlacement > 0 {
			fraction, variance := emergence(share, e.worth(), live)
			out = append(out, Lesson{Sown: s, Shared: shared, Fraction: fraction, Variance: variance})
		}
	}
	return out
}

// emergence turns a share of placements occupied, worth so many placements, into the share of
// live seeds and the variance of its logarithm: dλ = dp / (1 - p).
func emergence(share, worth, live float64) (fraction, variance float64) {
	if share == 0 || share == 1 {
		share = (share*worth + 0.5) / (worth + 1)
	}
	plants := seed.MeanPlantsToFill(share)
	return plants / live, share / ((1 - share) * worth * plants * plants)
}

// Two guesses of our own stand until counts tell, each known as well as guessWeight counts
// would show it: from season to season, and from one kind of seed and ground to another, 19
// of 20 shares lie between half and double.
const guessWeight = 4.0

var guessedVariance = math.Pow(math.Ln2/seed.StudentDeviate(seed.CertificateLevel, guessWeight), 2)

// group is what counts are put together by: the seed's form and treatment, and the ground.
type group struct{ form, treatment, ground string }

func (l Lesson) group() group { return group{l.Sown.Form, l.Sown.Treatment, l.Ground} }

// Target is what is to be sown, and by which kind of count it is foreseen.
type Target struct {
	Kind   Kind
	Sown   Sown
	Ground string
}

// Learned is the share of live seeds that becomes plants, as counts show it.
type Learned struct {
	Of           Target
	Fraction     float64 // 0..1
	LowFraction  float64 // of what is usual, at 95 %
	HighFraction float64
	PoorFraction float64 // 19 of 20 seasons lie between this and GoodFraction
	GoodFraction float64
	Own          []Lesson // of the same form, treatment and ground
	Pool         []Lesson // of the species, those among them; of every species where it has none
	OtherSpecies bool     // the pool is of other species
	OwnWeight    float64  // 0..1: how far the figure goes from the pool's to its own counts'

	pooled, withinVar, betweenVar, freedom float64
}

// Learn foresees the share for a target from all lessons; ok is false when none is of its
// kind. On the scale of logarithms counts scatter about the mean of their group (seed's form,
// treatment, ground), and group means about the mean of the species. Both variances are
// estimated by moments and joined with the guess by their degrees of freedom; the group's
// mean is then drawn to the pool's by W = between / (between + variance of the group's mean).
// The limits are Student's t with the degrees of freedom of both. Next season scatters about
// the group as counts do.
// Sources: DerSimonian & Laird 1986, Controlled Clinical Trials 7:177-188 (moments); Morris
// 1983, J. Am. Stat. Assoc. 78:47-55 (empirical Bayes); Gelman et al. 2013, Bayesian Data
// Analysis, 3.2 (joining a variance with a guess).
func Learn(all []Lesson, of Target) (l Learned, ok bool) {
	l.Of = of
	l.gather(all)
	if len(l.Pool) == 0 {
		return l, false
	}
	names, groups := grouped(l.Pool)
	counts, withinFree := beyond(groups)
	l.withinVar = joined(counts, withinFree)
	means := make([]value, len(groups))
	for i, values := range groups {
		means[i] = pooledMean(values, l.withinVar)
	}
	between, betweenFree := beyond([][]value{means})
	l.betweenVar, l.freedom = joined(between, betweenFree), guessWeight+withinFree+betweenFree
	pool := pooledMean(means, l.betweenVar)
	l.pooled = math.Exp(pool.at)
	mean, variance := pool.at, pool.variance+l.betweenVar
	if own := slices.Index(names, (Lesson{Sown: of.Sown, Ground: of.Ground}).group()); own >= 0 && !l.OtherSpecies {
		l.OwnWeight = l.betweenVar / (l.betweenVar + means[own].variance)
		mean = l.OwnWeight*means[own].at + (1-l.OwnWeight)*pool.at
		variance = l.OwnWeight*means[own].variance + (1-l.OwnWeight)*(1-l.OwnWeight)*pool.variance
	}
	l.limit(mean, variance)
	return l, true
}

// gather parts the lessons of the kind wanted.
func (l *Learned) gather(all []Lesson) {
	target := Lesson{Sown: l.Of.Sown, Ground: l.Of.Ground}
	var others []Lesson
	for _, one := range all {
		switch {
		case one.Kind != l.Of.Kind:
		case one.Sown.Species != l.Of.Sown.Species:
			others = append(others, one)
		default:
			l.Pool = append(l.Pool, one)
			if one.group() == target.group() {
				l.Own = append(l.Own, one)
			}
		}
	}
	if l.OtherSpecies = len(l.Pool) == 0; l.OtherSpecies {
		l.Pool = others
	}
	slices.SortFunc(l.Pool, func(a, b Lesson) int { return cmp.Or(cmp.Compare(a.On, b.On), cmp.Compare(a.Job, b.Job)) })
}

func (l *Learned) limit(mean, variance float64) {
	t := seed.StudentDeviate(seed.CertificateLevel, l.freedom)
	off, season := t*math.Sqrt(variance), t*math.Sqrt(variance+l.withinVar)
	l.Fraction = min(1, math.Exp(mean))
	l.LowFraction, l.HighFraction = math.Exp(mean-off), min(1, math.Exp(mean+off))
	l.PoorFraction, l.GoodFraction = math.Exp(mean-season), min(1, math.Exp(mean+season))
}

// value is a logarithm with its variance.
type value struct{ at, variance float64 }

func grouped(lessons []Lesson) (names []group, groups [][]value) {
	for _, one := range lessons {
		at := slices.Index(names, one.group())
		if at < 0 {
			at, names, groups = len(names), append(names, one.group()), append(groups, nil)
		}
		groups[at] = append(groups[at], value{math.Log(one.Fraction), one.Variance})
	}
	return names, groups
}

// beyond is the variance between the values of a group beyond their own, over all groups
// together, with its degrees of freedom.
func beyond(groups [][]value) (variance, free float64) {
	excess, weight := 0.0, 0.0
	for _, values := range groups {
		q, c := scatter(values)
		excess, weight = excess+q-float64(len(values)-1), weight+c
		free += float64(len(values) - 1)
	}
	if weight == 0 {
		return 0, 0
	}
	return max(0, excess/weight), free
}

// scatter is the weighted sum of squares about the mean, and what one unit of variance
// between the values adds to it.
func scatter(values []value) (q, c float64) {
	sum, squares := 0.0, 0.0
	for _, v := range values {
		sum, squares = sum+1/v.variance, squares+1/(v.variance*v.variance)
	}
	mean := pooledMean(values, 0).at
	for _, v := range values {
		q += (v.at - mean) * (v.at - mean) / v.variance
	}
	return q, sum - squares/sum
}

// pooledMean weighs values by their own variance and one between them.
func pooledMean(values []value, between float64) (mean value) {
	weights := 0.0
	for _, v := range values {
		w := 1 / (v.variance + between)
		weights, mean.at = weights+w, mean.at+w*v.at
	}
	return value{mean.at / weights, 1 / weights}
}

// joined weighs a variance by its degrees of freedom with the guess.
func joined(variance, free float64) float64 {
	return (guessWeight*guessedVariance + free*variance) / (guessWeight + free)
}
