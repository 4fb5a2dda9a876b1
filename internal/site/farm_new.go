package site

import (
	"fmt"
	"strconv"

	"rowtally/internal/bill"
	"rowtally/internal/job"
)

type formPage struct {
	Frame
	Head   string // the sentence about the form as a whole
	Lead   string // what the form is for
	Groups []group
	Action string
	Button string
	Back   string
	Other  string // another thing to do, sent as act "drop"; "" for none
	Files  bool
}

// group is some fields under one heading.
type group struct {
	Heading, Lead string
	Fields        []Field
}

// draw shows a form page: as it begins, or as it came back with sentences.
func (r *request) draw(f *form, page formPage) error {
	page.Action = r.Path()
	for i, g := range page.Groups {
		page.Groups[i].Fields = f.fields(g.Fields...)
	}
	page.Head = f.head()
	if !f.ok() {
		r.Status(422)
	}
	return r.show("form", page)
}

func (s *site) farmNew(r *request) error {
	f := blank(nil)
	if r.isPost() {
		f = readForm(r)
		farm := farmFrom(f)
		if f.ok() {
			id, err := s.Books.AddFarm(r.Context(), r.act(), farm)
			if err == nil {
				return r.see(fmt.Sprintf("/farms/%d", id))
			}
			if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, formPage{Frame: r.frame("farms", "A new farm"), Groups: farmFields(), Button: "Keep the farm", Back: "/farms"})
}

func (s *site) farmEdit(r *request) error {
	farm, err := named(r, s.Books.Farm)
	if err != nil {
		return err
	}
	f := blank(map[string]string{
		"name": farm.Name, "contact": farm.Contact, "abn": bill.FormatABN(farm.ABN), "address": farm.Address,
		"phone": farm.Phone, "email": farm.Email, "note": farm.Note,
	})
	back := "/farms/" + strconv.FormatInt(farm.ID, 10)
	if r.isPost() {
		f = readForm(r)
		changed := farmFrom(f)
		changed.ID = farm.ID
		if f.ok() {
			if err := s.Books.ChangeFarm(r.Context(), r.act(), changed); err == nil {
				return r.see(back + "?done=kept")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, formPage{Frame: r.frame("farms", "Change "+farm.Name), Groups: farmFields(), Button: "Keep the changes", Back: back})
}

func farmFrom(f *form) job.Farm {
	return job.Farm{
		Name: f.must("name", "Enter the farm's name, as it should stand on papers."), Contact: f.text("contact"),
		ABN: f.abn("abn"), Address: f.text("address"), Phone: f.text("phone"), Email: f.text("email"), Note: f.text("note"),
	}
}

func farmFields() []group {
	return []group{{Fields: []Field{
		{Name: "name", Label: "Farm", Required: true, Hint: "As it should stand on quotes and invoices."},
		{Name: "contact", Label: "Who speaks for it"},
		{Name: "abn", Label: "ABN", Inputmode: "numeric", Hint: "An invoice of $1,000 or more names the buyer in any case."},
		{Name: "address", Label: "Address", Kind: "textarea"},
		{Name: "phone", Label: "Phone", Inputmode: "tel"},
		{Name: "email", Label: "Email", Inputmode: "email"},
		{Name: "note", Label: "Note", Kind: "textarea"},
	}}}
}

// abn reads a business number that may be left empty, kept as its digits.
func (f *form) abn(name string) string {
	typed := f.text(name)
	if typed == "" {
		return ""
	}
	digits, err := bill.CheckABN(typed)
	if err != nil {
		f.refuse(name, "%s", sentence(err.Error()))
	}
	return digits
}
