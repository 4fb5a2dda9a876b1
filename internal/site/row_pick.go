package site

import (
	"fmt"

	"rowtally/internal/job"
)

// rowPick lets a farmer look at one row: the form, every row's number, and the row asked for.
type rowPick struct {
	Field Field
	Rows  []int
	View  *job.RowView // nil until one is asked for
}

// readPick reads the row from the address, so that the page works without script and a row
// can be handed on as a link.
func readPick(r *request) *form {
	return blank(map[string]string{"row": legible.Replace(r.Query("row"))})
}

// pickOf looks the row up; nil while no rows are laid.
func pickOf(f *form, facts job.Facts) *rowPick {
	laid, err := facts.Rows()
	if err != nil {
		return nil
	}
	pick := rowPick{}
	for _, row := range laid.Rows {
		pick.Rows = append(pick.Rows, row.Number)
	}
	if f.typed["row"] != "" {
		if number := f.integer("row", 1, 1_000_000); f.ok() {
			view, err := facts.ViewRow(number)
			if f.heed(err); f.ok() {
				pick.View = &view
			}
		}
	}
	pick.Field = f.field(Field{Name: "row", Label: "Number of the row", Kind: "number", Inputmode: "numeric", Required: true,
		Hint: fmt.Sprintf("%d to %d, from left to right along the bearing.", pick.Rows[0], pick.Rows[len(pick.Rows)-1])})
	return &pick
}

// row is the number of the row looked at; 0 for none.
func (p *rowPick) row() int {
	if p == nil || p.View == nil {
		return 0
	}
	return p.View.Row
}

// pick draws one row apart from the others, with its number beside its start.
func (k *sketch) pick(m job.Map, p *rowPick) {
	if k == nil || p.row() == 0 {
		return
	}
	d, _ := drawingOf(m, k.Width)
	k.Picked = d.stretches(p.View.Drawn)
	start := p.View.Drawn[0]
	k.PickedSays, k.PickedX, k.PickedY = fmt.Sprintf("row %d", p.View.Row), d.x(start[0])+6, d.y(start[1])-6
	k.Says += fmt.Sprintf("; row %d is drawn apart", p.View.Row)
}
