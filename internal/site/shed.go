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
	lotBooks
}

// lotBooks is what the pages of a lot's store, documents and kin ask of the store.
type lotBooks interface {
	Inoculants(ctx context.Context) ([]seed.Inoculant, error)
	KeepInoculants(ctx context.Context, act job.Act, list []seed.Inoculant) error
	JobsWithLot(ctx context.Context, lotID int64) ([]job.Job, error)
	AddStorageCondition(ctx context.Context, act job.Act, c seed.StorageCondition) (int64, error)
	DropStorageCondition(ctx context.Context, act job.Act, id int64) error
	RetestMonths(ctx context.Context) (map[string]int, error)
	SetRetestMonths(ctx context.Context, act job.Act, species string, months int) error
	Documents(ctx context.Context, lotID int64) ([]seed.Document, error)
	Document(ctx context.Context, id int64) (seed.Document, error)
	AddDocument(ctx context.Context, act job.Act, d seed.Document) (int64, error)
	DropDocument(ctx context.Context, act job.Act, id int64) error
	LotSources(ctx context.Context, lotID int64) ([]seed.Source, error)
	SplitLot(ctx context.Context, act job.Act, fromID int64, code string, grams int64) (int64, error)
	BlendLots(ctx context.Context, act job.Act, lot seed.Lot, sources []seed.Source) (int64, error)
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
		office(get, "/shed/lots/:id/store", s.lotStore),
		office(post, "/shed/lots/:id/store", s.lotStore),
		office(post, "/shed/lots/:id/store/:condition/drop", s.lotStoreDrop),
		office(get, "/shed/lots/:id/documents/new", s.documentNew),
		office(post, "/shed/lots/:id/documents/new", s.documentNew),
		field(get, "/shed/lots/:id/documents/:document", s.documentShow),
		office(post, "/shed/lots/:id/documents/:document/drop", s.documentDrop),
		office(get, "/shed/lots/:id/split", s.lotSplit),
		office(post, "/shed/lots/:id/split", s.lotSplit),
		office(get, "/shed/blend", s.lotBlend),
		office(post, "/shed/blend", s.lotBlend),
		office(get, "/shed/allot", s.allot),
		office(get, "/shed/retests", s.retests),
		office(post, "/shed/retests", s.retests),
		office(get, "/shed/inoculants", s.inoculants),
		office(post, "/shed/inoculants", s.inoculants),
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
	Blends  bool // a species has two lots to blend
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
	page := shedPage{Frame: r.frame("shed", "Shed"), Says: job.ShedSays(lots), Media: shelf.Media(), Blends: blendGroups(shelf) != nil}
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
