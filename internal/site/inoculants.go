package site

import (
	"fmt"
	"strconv"

	"rowtally/internal/seed"
)

// inoculantRows is how many inoculants the form offers.
const inoculantRows = 8

type inoculantsPage struct {
	Frame
	Head string
	Rows []inoculantRow
}

// inoculantRow is one inoculant of the form.
type inoculantRow struct{ Group, Product, Pack, Price, Left Field }

// leftOfPack is what becomes of what is left in an opened pack.
var leftOfPack = []Option{{"", "thrown away"}, {"keeps", "kept and used"}}

// inoculants sets what the inoculant of each group of legumes costs.
func (s *site) inoculants(r *request) error {
	kept, err := s.Books.Inoculants(r.Context())
	if err != nil {
		return err
	}
	f := blank(inoculantsTyped(kept))
	if r.isPost() {
		f = readForm(r)
		list, rows := inoculantsFrom(f)
		if f.ok() {
			if err := s.Books.KeepInoculants(r.Context(), r.act(), list); err == nil {
				return r.see("/shed/inoculants?done=kept")
			} else if err := f.take(err); err != nil {
				return err
			}
			for i, n := range rows {
				f.as(fmt.Sprintf("inoculants[%d].for_group", i), "group_"+n)
				f.as(fmt.Sprintf("inoculants[%d].product", i), "product_"+n)
				f.as(fmt.Sprintf("inoculants[%d].pack_g", i), "pack_"+n)
				f.as(fmt.Sprintf("inoculants[%d].pack_price", i), "price_"+n)
			}
		}
		r.Status(422)
	}
	page := inoculantsPage{Frame: r.frame("shed", "Inoculants")}
	for i := range inoculantRows {
		page.Rows = append(page.Rows, drawInoculant(f, strconv.Itoa(i)))
	}
	page.Head = f.head()
	return r.show("inoculants", page)
}

func drawInoculant(f *form, n string) inoculantRow {
	return inoculantRow{
		Group:   f.field(Field{Name: "group_" + n, Label: "For group"}),
		Product: f.field(Field{Name: "product_" + n, Label: "Sold as"}),
		Pack:    f.field(Field{Name: "pack_" + n, Label: "A pack, g", Kind: "number"}),
		Price:   f.field(Field{Name: "price_" + n, Label: "Price of a pack", Kind: "number"}),
		Left:    f.field(Field{Name: "left_" + n, Label: "What is left of a pack", Kind: "select", Options: leftOfPack}),
	}
}

// inoculantsFrom reads the rows that say anything, with the number of each in the form.
func inoculantsFrom(f *form) (list []seed.Inoculant, rows []string) {
	const mostG = 100_000
	for i := range inoculantRows {
		n := strconv.Itoa(i)
		if f.typed["group_"+n] == "" && f.typed["product_"+n] == "" && f.typed["pack_"+n] == "" && f.typed["price_"+n] == "" {
			continue
		}
		list, rows = append(list, seed.Inoculant{
			ForGroup: f.must("group_"+n, "Enter the group of legumes that it is for, as its label has it."),
			Product:  f.must("product_"+n, "Enter what it is sold as."),
			PackG:    f.number("pack_"+n, 1, mostG), PackPrice: f.unitPrice("price_" + n), Keeps: f.typed["left_"+n] == "keeps",
		}), append(rows, n)
	}
	return list, rows
}

func inoculantsTyped(kept []seed.Inoculant) map[string]string {
	typed := map[string]string{}
	for i, in := range kept {
		n := strconv.Itoa(i)
		typed["group_"+n], typed["product_"+n], typed["pack_"+n], typed["price_"+n] = in.ForGroup, in.Product, number(in.PackG), in.PackPrice.Plain()
		if in.Keeps {
			typed["left_"+n] = "keeps"
		}
	}
	return typed
}
