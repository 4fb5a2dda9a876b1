package site

import (
	"context"
	"fmt"

	"rowtally/internal/job"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// stockBooks is what the stock forms and lists ask of the store.
type stockBooks interface {
	Movements(ctx context.Context, kind job.StockKind, id int64) ([]job.Movement, error)
	Receive(ctx context.Context, act job.Act, kind job.StockKind, id, quantity int64, note string) error
	Buy(ctx context.Context, act job.Act, productID, ml int64, cost money.Cents, note string) error
	WriteOff(ctx context.Context, act job.Act, kind job.StockKind, id, quantity int64, reason string) error
	CountStock(ctx context.Context, act job.Act, kind job.StockKind, id int64, place job.Place, counted int64, note string) error
	MoveStock(ctx context.Context, act job.Act, kind job.StockKind, id int64, from, to job.Place, quantity int64, note string) error
}

// The ways in which stock changes outside a job.
const (
	received   = "received"
	loaded     = "loaded"
	unloaded   = "unloaded"
	writtenOff = "written off"
	counted    = "counted"
)

var stockActs = []Option{
	{received, "more came in"},
	{loaded, "put on the truck"},
	{unloaded, "taken off the truck, into the shed"},
	{writtenOff, "written off: spoilt, spilt, sold, given away"},
	{counted, "counted or weighed: this is what lies there"},
}

var places = []Option{{string(job.Shed), "in the shed"}, {string(job.Truck), "on the truck"}}

// stocked is one lot or medium whose stock a form changes.
type stocked struct {
	kind      job.StockKind
	id        int64
	name      string
	unit      string // that the form counts in: kg or L
	most      float64
	back      string
	standsNow job.Standing
}

// changeStock is the one form for what came in, went, or was found on counting.
func (s *site) changeStock(r *request, of stocked) error {
	f := blank(map[string]string{"what": received, "place": string(job.Shed)})
	if r.isPost() {
		f = readForm(r)
		act := f.oneOf("what", stockActs)
		least := leastAmount
		if act == counted {
			least = 0
		}
		quantity := f.thousandths("quantity", least, of.most)
		if f.ok() {
			if err := s.moveStock(r, f, of, act, quantity); err != nil {
				return err
			}
			if f.ok() {
				return r.see(of.back + "?done=kept")
			}
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("shed", "Stock of "+of.name), Button: "Keep it", Back: of.back, Lead: of.lead(),
		Groups: []group{{Fields: append([]Field{
			{Name: "what", Label: "What happened", Kind: "select", Required: true, Options: stockActs},
			{Name: "quantity", Label: "How much", Kind: "number", Unit: of.unit, Required: true},
			{Name: "place", Label: "Where it was counted", Kind: "select", Required: true, Options: places, Hint: "For a count alone."},
			{Name: "note", Label: "Why", Hint: "Needed for a write-off and a count."},
		}, of.costFields()...)}},
	})
}

// moveStock writes the movement. What the person must change stands in the form after.
func (s *site) moveStock(r *request, f *form, of stocked, what string, quantity int64) error {
	ctx, act, note := r.Context(), r.act(), f.text("note")
	var err error
	switch what {
	case received:
		err = s.receive(r, f, of, quantity, note)
	case loaded:
		err = s.Books.MoveStock(ctx, act, of.kind, of.id, job.Shed, job.Truck, quantity, note)
	case unloaded:
		err = s.Books.MoveStock(ctx, act, of.kind, of.id, job.Truck, job.Shed, quantity, note)
	default:
		err = s.settleStock(r, f, of, what, quantity)
	}
	return f.take(err)
}

// receive takes stock in: a medium at what its delivery cost, where that is typed.
func (s *site) receive(r *request, f *form, of stocked, quantity int64, note string) error {
	if of.kind != job.MediumStock || f.typed["cost"] == "" {
		return s.Books.Receive(r.Context(), r.act(), of.kind, of.id, quantity, note)
	}
	cost := f.price("cost", true)
	if !f.ok() {
		return nil
	}
	return s.Books.Buy(r.Context(), r.act(), of.id, quantity, cost.Cents(), note)
}

// costFields ask what came in cost: a lot's cost a kg stands on its own page.
func (of stocked) costFields() []Field {
	if of.kind != job.MediumStock {
		return nil
	}
	return []Field{{Name: "cost", Label: "What the delivery cost", Kind: "number", Unit: "before tax", Hint: "For what came in alone, all of it with freight. Empty takes the price of a bag."}}
}

// settleStock writes what stock lost, or was found on counting: both keep their reason.
func (s *site) settleStock(r *request, f *form, of stocked, what string, quantity int64) error {
	why := f.must("note", "Say why: the stock's history keeps it.")
	place := job.Place(f.oneOf("place", places))
	switch {
	case !f.ok():
		return nil
	case what == writtenOff:
		return s.Books.WriteOff(r.Context(), r.act(), of.kind, of.id, quantity, why)
	}
	return s.Books.CountStock(r.Context(), r.act(), of.kind, of.id, place, quantity, why)
}

func (of stocked) lead() string {
	shown := func(thousandths int64) string { return amount(thousandths) + " " + of.unit }
	return fmt.Sprintf("On hand %s, of it %s on the truck; %s held back for jobs.",
		shown(of.standsNow.OnHand), shown(of.standsNow.AtTruck), shown(of.standsNow.Held))
}

// amount writes whole grams as kg, or millilitres as L.
func amount(thousandths int64) string { return unit.Grouped(float64(thousandths)/1000, 1) }

// movementLine is one line of a stock's history, with the job it was for.
type movementLine struct {
	job.Movement
	Job job.Job // zero for none
}

// stockLines reads what holds a stock back, and what moved it.
func (s *site) stockLines(r *request, kind job.StockKind, id int64, shelf job.Shelf) ([]claimLine, []movementLine, error) {
	jobs, err := s.Books.Jobs(r.Context(), 0)
	if err != nil {
		return nil, nil, err
	}
	byID := map[int64]job.Job{}
	for _, j := range jobs {
		byID[j.ID] = j
	}
	var claims []claimLine
	for _, h := range shelf.Held {
		if h.StockKind == kind && h.StockID == id && h.Held > 0 {
			claims = append(claims, claimLine{h, byID[h.JobID]})
		}
	}
	moved, err := s.Books.Movements(r.Context(), kind, id)
	var lines []movementLine
	for _, m := range moved {
		m.At = inZone(m.At, r.business.Zone)
		lines = append(lines, movementLine{m, byID[m.JobID]})
	}
	return claims, lines, err
}
