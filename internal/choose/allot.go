package choose

import (
	"cmp"
	"slices"

	"rowtally/internal/job"
	"rowtally/internal/money"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// Measure is what a need is counted in.
type Measure string

const (
	LiveSeeds   Measure = "live seeds"
	LiveGrams   Measure = "pure live seed" // in g
	BaggedGrams Measure = "seed as bagged" // in g
)

// Need is the seed that one species of one job still wants, and where it is to come from.
type Need struct {
	Job        job.Job
	Layer      seed.Layer
	Of         Measure
	Species    string
	CommonName string
	Live       float64 // wanted, in its measure
	Takes      []Take
	ShortLive  float64 // that no lot can give, in its measure
	Ruled      []Ruled // lots of the species that may not be used
	Buy        *Buy    // nil when nothing is short

	facts  job.Facts
	limits job.LotLimits
	rate   job.UnderstoreySpecies // of the understorey
}

// Take is what one lot gives to a need.
type Take struct {
	Lot          seed.Lot
	Figures      job.LotFigures
	Kg           float64
	Live         float64 // in the need's measure
	SharePercent float64 // of what the need gets; they make 100
	Cost         money.Cents
}

// Ruled is a lot that may not supply a need, and why.
type Ruled struct {
	Lot seed.Lot
	Why string
}

// Buy is what to buy for live seed that is short, measured by a lot that is known.
type Buy struct {
	Kg   float64
	Like seed.Lot // as alive as this one
}

// Allotment is every need with what it takes.
type Allotment struct {
	Needs   []Need
	Unknown []job.Job // whose rows or recipe are not chosen yet
	Cost    money.Cents
}

// leastKg is what is not worth opening a bag for: rounding of the program.
const leastKg = 0.0005

// marginG is kept back of every lot for each need, so that tubs in whole scale steps never
// ask for more than there is.
const marginG = 2

// ForJob proposes the lots for one job, by its recipe's limits and figures, from what is
// free for it. It refuses as job.LiveWanted does.
func ForJob(f job.Facts) (Allotment, error) {
	needs, err := needsOf(f)
	if err != nil {
		return Allotment{}, err
	}
	return allot(needs, func(lotID int64) int64 { return f.Shelf.Free(job.LotStock, lotID, f.Job.ID) })
}

// ForUnderstorey proposes the lots of one job's understorey, from what is free for it. It
// refuses as job.BetweenWanted does.
func ForUnderstorey(f job.Facts) (Allotment, error) {
	needs, err := needsBetween(f)
	if err != nil {
		return Allotment{}, err
	}
	return allot(needs, func(lotID int64) int64 { return f.Shelf.Free(job.LotStock, lotID, f.Job.ID) })
}

// ForSeason allots the lots to all the jobs given at once, from what no other job has
// claimed. Jobs without rows or recipe are named as unknown.
func ForSeason(all []job.Facts) (Allotment, error) {
	var needs []Need
	var unknown []job.Job
	mine := map[int64]bool{}
	for _, f := range all {
		mine[f.Job.ID] = true
		if own, err := needsOf(f); err == nil && f.Recipe != nil {
			needs = append(needs, own...)
		} else if !f.Rowless() {
			unknown = append(unknown, f.Job)
		}
		if between, err := needsBetween(f); err == nil {
			needs = append(needs, between...)
		}
	}
	a, err := allot(needs, func(lotID int64) int64 { return freeFor(all[0].Shelf, lotID, mine) })
	a.Unknown = unknown
	return a, err
}

// freeFor is what is on hand of a lot less what jobs outside the season's hold back.
func freeFor(shelf job.Shelf, lotID int64, mine map[int64]bool) int64 {
	free := shelf.OnHand(job.LotStock, lotID)
	for _, h := range shelf.Held {
		if h.StockKind == job.LotStock && h.StockID == lotID && !mine[h.JobID] {
			free -= h.Held
		}
	}
	return free
}

func needsOf(f job.Facts) ([]Need, error) {
	wanted, err := f.LiveWanted()
	var needs []Need
	for _, w := range wanted {
		n := Need{Job: f.Job, Layer: seed.Shrub, Of: LiveSeeds, Species: w.Species, Live: w.Live, facts: f, limits: f.Recipe.Limits}
		needs = append(needs, n.named())
	}
	return needs, err
}

func needsBetween(f job.Facts) ([]Need, error) {
	wanted, err := f.BetweenWanted()
	var needs []Need
	for _, w := range wanted {
		n := Need{Job: f.Job, Layer: seed.Understorey, Of: BaggedGrams, Species: w.Of.Species, Live: w.Grams, facts: f, rate: w.Of}
		if w.Of.RateIsLive {
			n.Of = LiveGrams
		}
		needs = append(needs, n.named())
	}
	return needs, err
}

// named is the need with what its species is called on the farm.
func (n Need) named() Need {
	n.CommonName = n.Species
	for _, lot := range n.facts.Shelf.Lots {
		if lot.Species == n.Species && lot.Layer == n.Layer && lot.CommonName != "" {
			n.CommonName = lot.CommonName
		}
	}
	return n
}

// allot solves species by species: lots of one species never serve another.
func allot(needs []Need, free func(lotID int64) int64) (Allotment, error) {
	a := Allotment{Needs: needs}
	var species []string
	for _, n := range needs {
		if !slices.Contains(species, n.Species) {
			species = append(species, n.Species)
		}
	}
	for _, name := range species {
		var own []*Need
		for i := range a.Needs {
			if a.Needs[i].Species == name {
				own = append(own, &a.Needs[i])
			}
		}
		if err := supply(own, func(id int64) int64 { return free(id) - int64(marginG*len(own)) }); err != nil {
			return a, err
		}
	}
	for i := range a.Needs {
		a.Needs[i].settle()
		for _, take := range a.Needs[i].Takes {
			a.Cost += take.Cost
		}
	}
	return a, nil
}

// supply solves the needs of one species over its lots.
func supply(needs []*Need, free func(lotID int64) int64) error {
	p, known := program{}, worths{}
	var ways []offer
	places := map[int64]int{} // of a lot in the program
	for k, n := range needs {
		p.needs = append(p.needs, n.Live)
		for _, o := range offers(*n, known, free) {
			if o.why != "" {
				n.Ruled = append(n.Ruled, Ruled{o.figures.Lot, o.why})
				continue
			}
			id := o.figures.Lot.ID
			if _, known := places[id]; !known {
				places[id] = len(places)
			}
			p.ways = append(p.ways, wayOf(k, places[id], *n, o))
			ways = append(ways, o)
		}
	}
	p.lots = len(places)
	p.priceUnknown()
	s, err := p.solve()
	if err != nil {
		return err
	}
	for k, n := range needs {
		n.ShortLive = s.short[k] * n.Live
		n.like(known)
	}
	for j, share := range s.share {
		needs[p.ways[j].need].take(ways[j], share)
	}
	return nil
}

// wayOf is one lot supplying one need, as the program sees it.
func wayOf(need, place int, n Need, o offer) way {
	limits := n.limits
	kg := n.Live / o.perKg
	w := way{need: need, lot: place, ofLot: kg / o.freeKg, most: 1, cost: kg * o.figures.Lot.ReadyPerKg().Float()}
	if limits.LargestSharePercent > 0 {
		w.most = min(1, limits.LargestSharePercent/100)
	}
	if limits.OldestFirst {
		w.newness = n.Live * float64(max(0, oldestDay.DaysTo(o.figures.Lot.ReceivedOn)))
	}
	return w
}

// oldestDay is before any lot of ours: newness counts from it.
const oldestDay unit.Date = "2000-01-01"

func (n *Need) take(o offer, share float64) {
	live := share * n.Live
	kg := live / o.perKg
	if kg < leastKg {
		return
	}
	const decimals = 3 // whole grams
	cost := o.figures.Lot.ReadyPerKg().Times(money.FactorOf(kg, decimals)).Cents()
	n.Takes = append(n.Takes, Take{Lot: o.figures.Lot, Figures: o.figures, Kg: kg, Live: live, Cost: cost})
}

// like finds the lot that a purchase is measured by: the liveliest of the species.
func (n *Need) like(known worths) {
	if n.ShortLive < 1 {
		n.ShortLive = 0
		return
	}
	n.Buy = &Buy{}
	best := 0.0
	for _, lot := range n.facts.Shelf.Lots {
		if lot.Species != n.Species || lot.Layer != n.Layer {
			continue
		}
		if _, perKg := n.worth(known, lot); perKg > best {
			best, n.Buy.Like = perKg, lot
		}
	}
	if best > 0 {
		n.Buy.Kg = n.ShortLive / best
	}
}

// settle puts the takes in order and gives them their shares.
func (n *Need) settle() {
	slices.SortFunc(n.Takes, func(a, b Take) int { return cmp.Or(cmp.Compare(b.Live, a.Live), cmp.Compare(a.Lot.Code, b.Lot.Code)) })
	n.shareOut()
}

// shareOut rounds the shares to a ten-thousandth of a per cent, so that they make 100 and
// can be typed again.
func (n *Need) shareOut() {
	const steps = 1e6 // of 100 %
	live := 0.0
	for _, t := range n.Takes {
		live += t.Live
	}
	left := int64(steps)
	for i := range n.Takes {
		part := int64(steps * n.Takes[i].Live / live)
		left -= part
		n.Takes[i].SharePercent = float64(part) / (steps / 100)
	}
	if len(n.Takes) > 0 {
		n.Takes[0].SharePercent += float64(left) / (steps / 100)
	}
}
