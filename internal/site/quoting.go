package site

import (
	"context"

	"rowtally/internal/bill"
	"rowtally/internal/job"
)

// quoteBooks is what the pages around a quote ask of the store.
type quoteBooks interface {
	Terms(ctx context.Context, jobID int64) (job.Terms, error)
	KeepTerms(ctx context.Context, act job.Act, terms job.Terms) error
	DropTerms(ctx context.Context, act job.Act, jobID int64) error
	RateCards(ctx context.Context) ([]bill.Card, error)
	KeepRateCard(ctx context.Context, act job.Act, card bill.Card) (int64, error)
	DropRateCard(ctx context.Context, act job.Act, id int64) error
}

func (s *site) quoteRoutes() []route {
	return []route{
		office(get, "/terms", s.termsEdit),
		office(post, "/terms", s.termsEdit),
		office(get, "/cards", s.rateCards),
		office(get, "/cards/new", s.rateCardNew),
		office(post, "/cards/new", s.rateCardNew),
		office(get, "/cards/:id", s.rateCardEdit),
		office(post, "/cards/:id", s.rateCardEdit),
		office(get, "/jobs/:id/from-cost", s.jobMarkup),
		office(post, "/jobs/:id/from-cost", s.jobMarkup),
		office(get, "/jobs/:id/estimate", s.estimate),
		office(post, "/jobs/:id/estimate", s.estimate),
		office(get, "/jobs/:id/variation", s.variation),
		office(post, "/jobs/:id/variation", s.variation),
		office(get, "/jobs/:id/terms", s.jobTerms),
		office(post, "/jobs/:id/terms", s.jobTerms),
	}
}
