package store

import (
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/money"
)

// alternativesOf are A, which is the quote, and B, at 200.00 a row-km and with a layout of its own.
func alternativesOf(p bill.Paper) []bill.Alternative {
	b := p
	b.Lines = []bill.PaperLine{p.Lines[0]}
	b.Lines[0].UnitPrice, b.RowM = money.MustFactor("200.00"), 24_800
	b.Particulars, b.Lots, b.Alternatives = []bill.Particular{{Heading: "Layout", Text: "wider"}}, []bill.PaperLot{{LotID: 1, Code: "D1", Grams: 5}}, nil
	if _, err := b.AddUp(); err != nil {
		panic(err)
	}
	settings, err := jsonOf(job.Alternative{Letter: "B", Name: "wider alleys", Layout: &job.Layout{AlleyM: 20, SpacingM: 3},
		Rates: []bill.Rate{{Description: "rows", Unit: "row-km", Basis: bill.RowKm, UnitPrice: money.MustFactor("200.00"), TaxCategory: "S", TaxPercent: money.MustFactor("10")}}})
	if err != nil {
		panic(err)
	}
	return []bill.Alternative{{Letter: "A", Name: "as it stands", Says: "12 m", Placements: 8267, AlleyHa: 14.9, GrossHa: 18.5},
		{Letter: "B", Name: "wider alleys", Says: "20 m", Placements: 5000, Settings: settings, Cost: "{}", Offered: bill.OfferOf(b)}}
}

// offered issues a quote of a job with two alternatives.
func (y yard) offered(jobID int64) bill.Paper {
	p := quote(jobID)
	p.Alternatives = alternativesOf(p)
	return y.issue(p)
}

func TestAnAlternativeComesBackAsKept(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		y.must(s.AddAlternative(y.ctx, y.act(), y.job, " as it stands ", "wider"))
		full := job.Alternative{JobID: y.job, Letter: "B", Name: "wider alleys", Layout: &job.Layout{JobID: y.job, AlleyM: 20.5, Edges: `[{"from":"A"}]`},
			Recipe: &job.Recipe{JobID: y.job, PlacementML: 45, Species: []job.RecipeSpecies{{Species: "x", LivePerPlacement: 30, LotIDs: []int64{y.lot}, SharePercents: []float64{100}}}},
			Rates:  []bill.Rate{{Position: 1, Description: "rows", Unit: "row-km", Basis: bill.RowKm, UnitPrice: money.MustFactor("105.1234"), TaxCategory: "S", TaxPercent: money.MustFactor("10")}}}
		y.must(s.KeepAlternative(y.ctx, y.act(), full))
		got, err := s.Alternatives(y.ctx, y.job)
		y.must(err)
		same(t, got, []job.Alternative{{JobID: y.job, Letter: "A", Name: "as it stands"}, full})
		refused(t, s.KeepAlternative(y.ctx, y.act(), job.Alternative{JobID: y.job, Letter: "C", Name: "x"}), fault.Missing, "", "no alternative C")
		refused(t, s.KeepAlternative(y.ctx, y.act(), job.Alternative{JobID: y.job, Letter: "B", Name: " "}), fault.Refused, "name", "short name")
		refused(t, s.DropAlternative(y.ctx, y.act(), y.job, "A"), fault.Missing, "", "no alternative A to take off")
	})
}

func TestAQuotesAlternativesComeBackAsIssuedAndTheYesTakesOne(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		y.must(s.KeepLayout(y.ctx, y.act(), job.Layout{JobID: y.job, AlleyM: 12}))
		y.must(s.AddAlternative(y.ctx, y.act(), y.job, "as it stands", "wider alleys"))
		p := y.offered(y.job)
		same(t, p.Alternatives, alternativesOf(quote(y.job)))
		refused(t, s.AcceptQuote(y.ctx, y.act(), yesTo(p.ID), nil), fault.Refused, "alternative", "choose the one that you say yes to")
		yes := yesTo(p.ID)
		yes.Alternative = "B"
		y.must(s.AcceptQuote(y.ctx, y.act(), yes, []job.Held{claim(y.lot, 10)}))
		layout, _, err := s.Layout(y.ctx, y.job)
		y.must(err)
		rates, err := s.Rates(y.ctx, y.job)
		y.must(err)
		left, err := s.Alternatives(y.ctx, y.job)
		y.must(err)
		if layout.AlleyM != 20 || len(rates) != 1 || rates[0].UnitPrice.String() != "200" || len(left) != 0 {
			t.Errorf("the job is laid with alleys of %g m at %v, %d alternatives left", layout.AlleyM, rates, len(left))
		}
		kept, err := s.Acceptances(y.ctx, y.job)
		y.must(err)
		if len(kept) != 1 || kept[0].Alternative != "B" {
			t.Errorf("kept %+v", kept)
		}
		broken, err := s.Verify(y.ctx)
		y.must(err)
		if len(broken) != 0 {
			t.Errorf("found %q", broken)
		}
	})
}

// With a tub mixed the job stays as it is: the yes to another alternative is refused whole.
func TestNoYesLaysAJobAnewOnceATubIsMixed(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		p := y.offered(y.job)
		y.id(s.MixTub(y.ctx, y.act(), tub(y.job, y.lot, 10)))
		yes := yesTo(p.ID)
		yes.Alternative = "B"
		refused(t, s.AcceptQuote(y.ctx, y.act(), yes, nil), fault.Clash, "", "has begun")
		refused(t, s.AddAlternative(y.ctx, y.act(), y.job, "a", "b"), fault.Clash, "", "has begun")
		if kept, err := s.Acceptances(y.ctx, y.job); err != nil || len(kept) != 0 {
			t.Errorf("kept %v, %v", kept, err)
		}
		yes.Alternative = "A"
		y.must(s.AcceptQuote(y.ctx, y.act(), yes, nil))
	})
}

// A quote whose alternative does not add up is not issued, and one that was changed behind the
// store's back is found.
func TestAnAlternativeThatDoesNotAddUp(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		p := quote(y.job)
		p.Alternatives = alternativesOf(p)
		p.Alternatives[1].Total++
		if _, err := s.IssuePaper(y.ctx, y.act(), p); err == nil || !mention([]string{err.Error()}, "alternative B: the total says") {
			t.Errorf("issued: %v", err)
		}
		p = y.offered(y.job)
		frozen, err := jsonOf(p.Alternatives[1])
		y.must(err)
		y.must(raw(t, s, "INSERT INTO paper_alternatives (paper_id, letter, frozen) VALUES (?, 'C', ?)", p.ID, frozen))
		broken, err := s.Verify(y.ctx)
		y.must(err)
		if !mention(broken, "alternative 3 is named \"B\"") {
			t.Errorf("found %q", broken)
		}
	})
}
