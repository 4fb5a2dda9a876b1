package site

import (
	"context"

	"rowtally/internal/job"
	"rowtally/internal/mix"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// shedBooks is what the pages of lots and media ask of the store.
type shedBooks interface {
	Lot(ctx context.Context, id int64) (seed.Lot, error)
	AddLot(ctx context.Context, act job.Act, lot seed.Lot, grams int64) (int64, error)
	ChangeLot(ctx context.Context, act job.Act, lot seed.Lot) error
	HoldLot(ctx context.Context, act job.Act, id int64, on unit.Date, reason string) error
	FreeLot(ctx context.Context, act job.Act, id int64) error
	AddTest(ctx context.Context, act job.Act, test seed.Test) (int64, error)
	Product(ctx context.Context, id int64) (mix.Product, error)
	AddProduct(ctx context.Context, act job.Act, product mix.Product, ml int64) (int64, error)
	ChangeProduct(ctx context.Context, act job.Act, product mix.Product) error
	stockBooks
}

func (s *site) shedRoutes() []route {
	return []route{
		field(get, "/shed", s.shed),
		office(get, "/shed/lots/new", s.lotNew),
		office(post, "/shed/lots/new", s.lotNew),
		field(get, "/shed/lots/:id", s.lotShow),
		office(get, "/shed/lots/:id/edit", s.lotEdit),
		office(post, "/shed/lots/:id/edit", s.lotEdit),
		office(get, "/shed/lots/:id/tests/new", s.testNew),
		office(post, "/shed/lots/:id/tests/new", s.testNew),
		office(post, "/shed/lots/:id/hold", s.lotHold),
		office(post, "/shed/lots/:id/free", s.lotFree),
		office(get, "/shed/lots/:id/stock", s.lotStock),
		office(post, "/shed/lots/:id/stock", s.lotStock),
		office(get, "/shed/media/new", s.mediumNew),
		office(post, "/shed/media/new", s.mediumNew),
		field(get, "/shed/media/:id", s.mediumShow),
		office(get, "/shed/media/:id/edit", s.mediumEdit),
		office(post, "/shed/media/:id/edit", s.mediumEdit),
		office(get, "/shed/media/:id/stock", s.mediumStock),
		office(post, "/shed/media/:id/stock", s.mediumStock),
	}
}

// shedPage is what lies in the shed and on the truck.
type shedPage struct {
	Frame
	Says    string
	Trouble bool // a lot is on hold or due a test
	Shrubs  []job.LotStanding
	Under   []job.LotStanding // of the understorey
	Used    []job.LotStanding // used up
	Media   []job.MediumStanding
}

func (s *site) shed(r *request) error {
	shelf, err := s.Books.Shelf(r.Context())
	if err != nil {
		return err
	}
	lots := shelf.LotsOn(r.today())
	page := shedPage{Frame: r.frame("shed", "Shed"), Says: job.ShedSays(lots), Media: shelf.Media()}
	for _, l := range lots {
		page.Trouble = page.Trouble || l.Wants()
		switch {
		case l.OnHand == 0:
			page.Used = append(page.Used, l)
		case l.Lot.Layer == seed.Understorey:
			page.Under = append(page.Under, l)
		default:
			page.Shrubs = append(page.Shrubs, l)
		}
	}
	return r.show("shed", page)
}
