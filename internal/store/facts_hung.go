package store

import (
	"maps"
	"slices"

	"gorm.io/gorm"

	"rowtally/internal/bill"
	"rowtally/internal/count"
	"rowtally/internal/job"
	"rowtally/internal/machine"
	"rowtally/internal/mix"
)

// mostNamed is how many jobs one statement names; engines take some thousands.
const mostNamed = 500

// hung is some jobs while what hangs on them is read: each noun in one reading for all.
type hung struct {
	db  *gorm.DB
	ids []int64
	at  map[int64]*job.Facts // by job
	all []job.Facts
}

func hangOn(db *gorm.DB, facts []job.Facts) hung {
	h := hung{db: db, at: make(map[int64]*job.Facts, len(facts)), all: facts}
	for i := range facts {
		id := facts[i].Job.ID
		h.ids, h.at[id] = append(h.ids, id), &facts[i]
	}
	return h
}

// readings are what hangs on the jobs, a noun each. Each fills fields of its own.
func (h hung) readings() []func() error {
	return []func() error{
		h.papers, h.paddocks, h.farms,
		func() error {
			return hang(h, layouts, func(f *job.Facts, l job.Layout) { f.Layout = &l }, func(l job.Layout) int64 { return l.JobID })
		},
		func() error {
			return hang(h, recipes, func(f *job.Facts, r job.Recipe) { f.Recipe = &r }, func(r job.Recipe) int64 { return r.JobID })
		},
		func() error {
			return hang(h, sownRecords, func(f *job.Facts, r job.Sown) { f.Sown = &r }, func(r job.Sown) int64 { return r.JobID })
		},
		func() error {
			return hang(h, understoreys, func(f *job.Facts, u job.Understorey) { f.Understorey = &u }, func(u job.Understorey) int64 { return u.JobID })
		},
		func() error {
			return hang(h, rates, func(f *job.Facts, r bill.Rate) { f.Rates = append(f.Rates, r) }, func(r bill.Rate) int64 { return r.JobID })
		},
		func() error {
			return hang(h, alternatives, func(f *job.Facts, a job.Alternative) { f.Alternatives = append(f.Alternatives, a) }, func(a job.Alternative) int64 { return a.JobID })
		},
		func() error {
			return hang(h, catches, func(f *job.Facts, c mix.Catch) { f.Catches = append(f.Catches, c) }, func(c mix.Catch) int64 { return c.JobID })
		},
		func() error {
			return hang(h, tubs, func(f *job.Facts, t mix.Tub) { f.Tubs = append(f.Tubs, t) }, func(t mix.Tub) int64 { return t.JobID })
		},
		func() error {
			return hang(h, cleanOuts, func(f *job.Facts, c mix.CleanOut) { f.CleanOuts = append(f.CleanOuts, c) }, func(c mix.CleanOut) int64 { return c.JobID })
		},
		func() error {
			return hang(h, movementsOf, func(f *job.Facts, m job.Movement) { f.Moved = append(f.Moved, m) }, func(m job.Movement) int64 { return m.JobID })
		},
		func() error {
			return hang(h, drillLoads, func(f *job.Facts, l job.DrillLoad) { f.DrillLoads = append(f.DrillLoads, l) }, func(l job.DrillLoad) int64 { return l.JobID })
		},
		func() error {
			return hang(h, daySheets, func(f *job.Facts, d machine.DaySheet) { f.DaySheets = append(f.DaySheets, d) }, func(d machine.DaySheet) int64 { return d.JobID })
		},
		func() error {
			return hang(h, logs, func(f *job.Facts, l job.Log) { f.Logs = append(f.Logs, l) }, func(l job.Log) int64 { return l.JobID })
		},
		func() error {
			return hang(h, countPlans, func(f *job.Facts, p count.Plan) { f.CountPlans = append(f.CountPlans, p) }, func(p count.Plan) int64 { return p.JobID })
		},
		func() error {
			return hang(h, countsOf, func(f *job.Facts, c count.Count) { f.Counts = append(f.Counts, c) }, func(c count.Count) int64 { return c.JobID })
		},
		func() error {
			return hang(h, questionsOf, func(f *job.Facts, q job.Question) { f.Questions = append(f.Questions, q) }, func(q job.Question) int64 { return q.JobID })
		},
		h.terms, h.measurings,
	}
}

// hang reads one noun of the jobs and hands each job its rows, in the order read.
func hang[T any](h hung, read func(db *gorm.DB, jobIDs ...int64) ([]T, error), give func(*job.Facts, T), jobOf func(T) int64) error {
	rows, err := read(h.db, h.ids...)
	for _, row := range rows {
		give(h.at[jobOf(row)], row)
	}
	return err
}

// papers reads the papers of the jobs, the yeses to them and what was paid on them. What came
// after the papers were read waits for the next reading.
func (h hung) papers() error {
	papers, err := papersOf(h.db, h.ids...)
	if err != nil {
		return err
	}
	on := make(map[int64]*job.Facts, len(papers)) // by paper
	for _, p := range papers {
		f := h.at[p.JobID]
		f.Papers, on[p.ID] = append(f.Papers, p), f
	}
	yeses, err := acceptances(h.db, h.ids...)
	if err != nil {
		return err
	}
	for _, yes := range yeses {
		if f := on[yes.PaperID]; f != nil {
			f.Acceptances = append(f.Acceptances, yes)
		}
	}
	placed, err := placings(h.db, h.ids...)
	for _, p := range placed {
		if f := on[p.PaperID]; f != nil {
			f.Placed = append(f.Placed, p)
		}
	}
	return err
}

// paddocks reads the paddocks of the jobs and what was read of their soil and water.
func (h hung) paddocks() error {
	of := h.by(func(j job.Job) int64 { return j.PaddockID })
	err := give(h.db, "paddock", of, func(p job.Paddock) int64 { return p.ID }, func(f *job.Facts, p job.Paddock) { f.Paddock = p })
	if err != nil {
		return err
	}
	taken, err := readings(h.db, keysOf(of)...)
	for _, r := range taken {
		for _, f := range of[r.PaddockID] {
			f.Readings = append(f.Readings, r)
		}
	}
	return err
}

func (h hung) farms() error {
	of := h.by(func(j job.Job) int64 { return j.FarmID })
	return give(h.db, "farm", of, func(farm job.Farm) int64 { return farm.ID }, func(f *job.Facts, farm job.Farm) { f.Farm = farm })
}

func (h hung) terms() error {
	found, err := termsOf(h.db, h.ids...)
	for id, f := range h.at {
		f.Terms = found(id)
	}
	return err
}

func (h hung) measurings() error {
	found, err := measurings(h.db, h.ids...)
	for id, f := range h.at {
		f.Measuring = found(id)
	}
	return err
}

// by groups the jobs by what they name; a job that names none is left out.
func (h hung) by(names func(job.Job) int64) map[int64][]*job.Facts {
	of := map[int64][]*job.Facts{}
	for i := range h.all {
		if id := names(h.all[i].Job); id != 0 {
			of[id] = append(of[id], &h.all[i])
		}
	}
	return of
}

// give reads the rows that jobs name and gives each job its own; one that is not there is
// missing. word is what a person calls it.
func give[T any](db *gorm.DB, word string, of map[int64][]*job.Facts, idOf func(T) int64, hand func(*job.Facts, T)) error {
	ids := keysOf(of)
	rows, err := all[T](db.Where("id IN ?", ids))
	if err != nil {
		return err
	}
	there := map[int64]bool{}
	for _, row := range rows {
		there[idOf(row)] = true
		for _, f := range of[idOf(row)] {
			hand(f, row)
		}
	}
	if i := slices.IndexFunc(ids, func(id int64) bool { return !there[id] }); i >= 0 {
		return notHere(word, ids[i])
	}
	return nil
}

func keysOf[T any](of map[int64]T) []int64 { return slices.Sorted(maps.Keys(of)) }
