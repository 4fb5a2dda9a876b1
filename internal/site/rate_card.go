package site

import (
	"strconv"

	"rowtally/internal/bill"
)

type cardsPage struct {
	Frame
	Cards []bill.Card
}

// rateCards lists the contractor's rate cards.
func (s *site) rateCards(r *request) error {
	cards, err := s.Books.RateCards(r.Context())
	if err != nil {
		return err
	}
	return r.show("cards", cardsPage{Frame: r.frame("business", "Rate cards"), Cards: cards})
}

type cardPage struct {
	Frame
	Head   string
	Fields []Field
	Rows   []rateRow
	Kept   bool // the card is kept already, and may be taken off
}

// rateCardNew and rateCardEdit are the form of one rate card.
func (s *site) rateCardNew(r *request) error { return s.askCard(r, bill.Card{}) }

func (s *site) rateCardEdit(r *request) error {
	id, err := r.id("id")
	if err != nil {
		return err
	}
	card, err := s.cardOf(r, id)
	if err != nil {
		return err
	}
	return s.askCard(r, card)
}

// cardOf finds a rate card by its number.
func (s *site) cardOf(r *request, id int64) (bill.Card, error) {
	cards, err := s.Books.RateCards(r.Context())
	if err != nil {
		return bill.Card{}, err
	}
	for _, card := range cards {
		if card.ID == id {
			return card, nil
		}
	}
	return bill.Card{}, noPage()
}

func (s *site) askCard(r *request, card bill.Card) error {
	f := blank(ratesTyped(card.Rates))
	f.typed["name"], f.typed["note"] = card.Name, card.Note
	if r.isPost() && r.FormValue("act") == "drop" && card.ID != 0 {
		if err := s.Books.DropRateCard(r.Context(), r.act(), card.ID); err != nil {
			return err
		}
		return r.see("/cards?done=off")
	}
	if r.isPost() {
		f = readForm(r)
		changed := bill.Card{ID: card.ID, Name: f.must("name", "Give the card a name, such as the season or the kind of work."), Note: f.text("note")}
		changed.Rates = ratesFrom(f, r.business, r.today())
		if f.ok() {
			_, err := s.Books.KeepRateCard(r.Context(), r.act(), changed)
			if err == nil {
				return r.see("/cards?done=kept")
			}
			if err := f.take(err); err != nil {
				return err
			}
		}
		r.Status(422)
	}
	page := cardPage{Frame: r.frame("business", "A rate card"), Kept: card.ID != 0, Fields: f.fields(
		Field{Name: "name", Label: "Name", Required: true}, Field{Name: "note", Label: "Note", Hint: "Since when, for which work."})}
	for i := range rateRows {
		page.Rows = append(page.Rows, drawRate(f, i, r.business))
	}
	page.Head = f.head()
	return r.show("card", page)
}

// cardAsked fills a form of rates from the card that the address names.
func (s *site) cardAsked(r *request, f *form) error {
	id, err := strconv.ParseInt(r.Query("card"), 10, 64)
	if err != nil || r.isPost() {
		return nil
	}
	card, err := s.cardOf(r, id)
	if err != nil {
		return err
	}
	f.typed = ratesTyped(card.Rates)
	return nil
}
