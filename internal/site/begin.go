package site

import "rowtally/internal/job"

// begin is the first run: the business and the contractor's sign-in, both at once.
func (s *site) begin(r *request) error {
	f := blank(map[string]string{
		"registered": "yes", "currency": "AUD", "tax_label": "GST", "tax_percent": "10",
		"zone": "Australia/Adelaide", "terms_days": "14", "valid_days": "30",
	})
	if r.isPost() {
		f = readForm(r)
		id, err := s.beginFrom(r, f)
		if err == nil && f.ok() {
			if err := s.letIn(r, id); err != nil {
				return err
			}
			return r.see("/")
		}
		if err := f.take(err); err != nil {
			return err
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("", "Begin the books"), Button: "Begin",
		Lead: "Rowtally keeps one business. Everything here can be changed later.",
		Groups: append(businessGroups(f), group{Heading: "Your sign-in, as the contractor", Fields: []Field{
			{Name: "person", Label: "Your name", Required: true, Hint: "You sign in with it, and the journal calls you by it."},
			{Name: "password", Label: "Password", Kind: "password", Required: true, Hint: "At least 10 characters."},
		}}),
	})
}

func (s *site) beginFrom(r *request, f *form) (personID int64, err error) {
	r.now = inZone(r.now, f.typed["zone"])
	business := businessFrom(f, r.today())
	person, password := f.must("person", "Enter your name."), f.password("password")
	if !f.ok() {
		return 0, nil
	}
	hash, err := s.door.hash(password)
	if err != nil {
		return 0, err
	}
	act := job.Act{Who: person, Now: r.now, Key: r.key()}
	return s.Books.Begin(r.Context(), act, business, job.Person{Name: person, Role: job.Contractor, PasswordHash: hash})
}
