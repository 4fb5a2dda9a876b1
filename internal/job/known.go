package job

import (
	"sync"

	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// known is what was worked out of a job's facts already. What is kept is never changed, and
// may be read by many at once; where the paddock or the layout of a copy of the facts is
// another, it is worked out anew.
type known struct {
	ground remembered[Paddock, Ground]
	rows   remembered[laidAs, Laid]
}

// laidAs is what rows follow from.
type laidAs struct {
	paddock Paddock
	layout  Layout
}

// remembered is the last outcome of what follows from a key alone.
type remembered[K comparable, V any] struct {
	mu    sync.Mutex
	has   bool
	key   K
	value V
	err   error
}

// of is the outcome for a key, worked out where it is not the last one.
func (r *remembered[K, V]) of(key K, work func() (V, error)) (V, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if !r.has || r.key != key {
		r.value, r.err = work()
		r.key, r.has = key, true
	}
	return r.value, r.err
}

// Remember makes these facts, and all copies of them, survey the paddock once, lay the rows
// once and read the sown record once, however often they are asked for.
func (f *Facts) Remember() {
	if f.known != nil {
		return
	}
	f.known = new(known)
	if f.Sown != nil {
		record := *f.Sown
		record.read = new(remembered[string, detail])
		f.Sown = &record
	}
}

// Survey measures the job's paddock.
func (f Facts) Survey() (Ground, error) {
	if f.known == nil {
		return Survey(f.Paddock)
	}
	return f.known.ground.of(f.Paddock, func() (Ground, error) { return Survey(f.Paddock) })
}

// GrossM2 is the area of the job's paddock in square metres, 0 while no boundary is read.
func (f Facts) GrossM2() float64 {
	g, err := f.Survey()
	if err != nil {
		return 0
	}
	return g.GrossM2
}

// lay lays the job's rows.
func (f Facts) lay() (Laid, error) {
	survey, err := f.Survey()
	if err != nil {
		return Laid{}, err
	}
	return survey.lay(*f.Layout)
}

// lotsKnown is what was worked out of a shelf's lots already.
type lotsKnown struct {
	mu       sync.Mutex
	figures  map[lotOn]LotFigures
	declines map[lotOn]seed.Decline
}

// lotOn is what a lot's figures follow from: the lot and the day, and its tests and stores by
// where they stand in memory.
type lotOn struct {
	lot        seed.Lot
	day        unit.Date
	tests      *seed.Test
	testCount  int
	stores     *seed.StorageCondition
	storeCount int
}

func (s Shelf) lotOn(lot seed.Lot, day unit.Date) lotOn {
	key := lotOn{lot: lot, day: day, testCount: len(s.Tests[lot.ID]), storeCount: len(s.Conditions[lot.ID])}
	if key.testCount > 0 {
		key.tests = &s.Tests[lot.ID][0]
	}
	if key.storeCount > 0 {
		key.stores = &s.Conditions[lot.ID][0]
	}
	return key
}

// Remember makes this shelf, and all copies of it, work each lot out once a day.
func (s *Shelf) Remember() {
	if s.known == nil {
		s.known = &lotsKnown{figures: map[lotOn]LotFigures{}, declines: map[lotOn]seed.Decline{}}
	}
}

// LotOn works out what one of the shelf's lots is worth on a day, as LotToday does.
func (s Shelf) LotOn(lot seed.Lot, day unit.Date) LotFigures {
	work := func() LotFigures { return LotToday(lot, s.Tests[lot.ID], day) }
	if s.known == nil {
		return work()
	}
	return knownOr(s.known, s.known.figures, s.lotOn(lot, day), work)
}

// Decline foresees a lot's germination from what is known on a day.
func (s Shelf) Decline(lot seed.Lot, day unit.Date) seed.Decline {
	work := func() seed.Decline { return seed.DeclineOf(lot, s.Tests[lot.ID], s.Conditions[lot.ID], day) }
	if s.known == nil {
		return work()
	}
	return knownOr(s.known, s.known.declines, s.lotOn(lot, day), work)
}

// knownOr is what is known of a lot, worked out where it is not.
func knownOr[V any](k *lotsKnown, of map[lotOn]V, key lotOn, work func() V) V {
	k.mu.Lock()
	defer k.mu.Unlock()
	value, has := of[key]
	if !has {
		value = work()
		of[key] = value
	}
	return value
}
