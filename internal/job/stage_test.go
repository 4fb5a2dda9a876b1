package job

import (
	"slices"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/count"
	"rowtally/internal/machine"
	"rowtally/internal/mix"
)

func TestAStageIsReadOffWhatHappened(t *testing.T) {
	f := sceneOf(t, 24)
	steps := []struct {
		stage Stage
		act   func(Facts) Facts
	}{
		{Asked, func(f Facts) Facts { return f }},
		{LookedAt, func(f Facts) Facts { f.Job.VisitedOn = "2026-05-04"; return f }},
		{Quoted, func(f Facts) Facts { return f.quoted(t, 1, "2026-07-01") }},
		{Agreed, func(f Facts) Facts { return f.agreed(1, "2026-07-03") }},
		{Agreed, func(f Facts) Facts { return f.quoted(t, 2, "2026-07-05") }}, // a new revision does not undo the yes
		{Sowing, func(f Facts) Facts { f.Tubs = []mix.Tub{{Number: 1, MixML: 160_000}}; return f }},
		{Sowing, func(f Facts) Facts { return f.logged(22.79) }},  // 94.96 %
		{AllSown, func(f Facts) Facts { return f.logged(22.81) }}, // 95.04 %
		{Declined, func(f Facts) Facts { f.Job.DeclinedOn = "2026-07-18"; return f }},
		{Billed, func(f Facts) Facts {
			f.Papers = append(f.Papers, bill.Paper{ID: 9, Kind: bill.Invoice, Total: 500})
			return f
		}},
		{Billed, func(f Facts) Facts { f.Placed = []bill.Placing{{PaperID: 9, Amount: 499}}; return f }},
		{Settled, func(f Facts) Facts {
			f.Papers = append(f.Papers, bill.Paper{ID: 10, Kind: bill.Adjustment, AnswersID: 9, Total: -1})
			return f
		}},
	}
	for i, step := range steps {
		f = step.act(f)
		if got := StageOf(f); got != step.stage {
			t.Errorf("step %d: %s, want %s", i, got, step.stage)
		}
		if open := step.stage != Declined && step.stage != Billed && step.stage != Settled; StageOf(f).Open() != open {
			t.Errorf("%s is open: %v", step.stage, !open)
		}
	}
}

func TestADaySheetAloneBeginsTheSowing(t *testing.T) {
	f := sceneOf(t, 24).quoted(t, 1, "2026-07-01").agreed(1, "2026-07-03")
	f.DaySheets = []machine.DaySheet{{RowM: 12_000}, {RowM: 500}}
	if got := StageOf(f); got != Sowing {
		t.Errorf("%s, want sowing", got)
	}
	if rowM, by := f.SownM(); rowM != 12_500 || by != "the day sheets" {
		t.Errorf("%v m by %q, want 12 500 by the day sheets", rowM, by)
	}
	if rowM, by := f.logged(11).SownM(); rowM != 11_000 || by != "the sown log" {
		t.Errorf("%v m by %q: the log rules over the day sheets", rowM, by)
	}
}

// At each stage the chain names the link where the next thing is done, with its page.
func TestTheChainLeadsOnAtEveryStage(t *testing.T) {
	bare := sceneOf(t, 24)
	bare.Paddock.Boundary, bare.Layout, bare.Recipe, bare.Rates = "", nil, nil, nil
	whole := sceneOf(t, 24)
	step := func(change func(*Facts)) Facts { f := bare; change(&f); return f }
	quoted := whole.quoted(t, 1, "2026-07-01")
	agreed := quoted.agreed(1, "2026-07-03")
	for _, c := range []struct {
		what  string
		facts Facts
		link  string
		next  Next
	}{
		{"nothing but a name", bare, "Ground", Next{"Read in the boundary", "/paddocks/1/boundary"}},
		{"a boundary", step(func(f *Facts) { f.Paddock = whole.Paddock }), "Rows", Next{"Lay the rows", "/jobs/3/rows"}},
		{"rows", step(func(f *Facts) { f.Paddock, f.Layout = whole.Paddock, whole.Layout }), "Live seed", Next{"Choose lots", "/jobs/3/mix"}},
		{"lots", step(func(f *Facts) { f.Paddock, f.Layout, f.Recipe = whole.Paddock, whole.Layout, whole.Recipe }), "Money", Next{"Enter the rates", "/jobs/3/rates"}},
		{"rates", whole, "Money", Next{"Make the quote", "/jobs/3/quote"}},
		{"a quote", quoted, "Money", Next{"The farmer's link", "/farms/1#link"}},
		{"a yes", agreed, "Sown", Next{"At the truck", "/truck/3"}},
		{"a log", agreed.logged(24), "Invoice", Next{"Make the invoice", "/jobs/3/invoice"}},
	} {
		chain := ChainOf(c.facts)
		now := ""
		for _, link := range chain.Links {
			if link.State == Now {
				now += link.Name
			}
		}
		if now != c.link || chain.Next != c.next {
			t.Errorf("%s: at %q, next %+v; want %q, %+v", c.what, now, chain.Next, c.link, c.next)
		}
		if len(chain.Links) != 9 || len(chain.Trouble) != 0 {
			t.Errorf("%s: %d links, trouble %q", c.what, len(chain.Links), chain.Trouble)
		}
	}
}

func TestAQuoteThatRanOutIsTrouble(t *testing.T) {
	f := sceneOf(t, 24).quoted(t, 1, "2026-06-01") // holds until 1 July
	c := ChainOf(f)
	if len(c.Trouble) != 1 || c.Trouble[0] != "Quote Q2026-0001 ran out on 1 Jul 2026. Issue a new revision." {
		t.Errorf("the chain says %q", c.Trouble)
	}
	v := ViewOf(f)
	if v.CanSay || v.WhyNot != "This quote ran out on 1 Jul 2026. Ask the contractor for a new one." {
		t.Errorf("the farmer may say yes: %v, %q", v.CanSay, v.WhyNot)
	}
	f.Today = "2026-07-01" // its last day
	if v := ViewOf(f); !v.CanSay {
		t.Errorf("on its last day: %q", v.WhyNot)
	}
}

// A job is past when its season is over and nothing is left to do for it.
func TestAJobIsPastWhenNothingIsLeftToDo(t *testing.T) {
	settled := Facts{Today: "2026-07-20", Job: Job{Season: 2025}, Papers: []bill.Paper{{ID: 1, Kind: bill.Invoice, Total: 100}}, Placed: []bill.Placing{{PaperID: 1, Amount: 100}}}
	for name, c := range map[string]struct {
		change func(*Facts)
		past   bool
	}{
		"settled":                {func(*Facts) {}, true},
		"of this season":         {func(f *Facts) { f.Job.Season = 2026 }, false},
		"not paid to the cent":   {func(f *Facts) { f.Placed[0].Amount = 99 }, false},
		"declined":               {func(f *Facts) { f.Papers, f.Job.DeclinedOn = nil, "2025-06-01" }, true},
		"asked for, never more":  {func(f *Facts) { f.Papers = nil }, false},
		"a question open":        {func(f *Facts) { f.Questions = []Question{{Words: []Word{{Kind: Asks}}}} }, false},
		"a count's places drawn": {func(f *Facts) { f.CountPlans = []count.Plan{{}} }, false},
	} {
		f := settled
		f.Placed = slices.Clone(f.Placed)
		c.change(&f)
		if f.Past() != c.past {
			t.Errorf("%s: past %v, stage %s", name, f.Past(), StageOf(f))
		}
	}
}
