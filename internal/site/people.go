package site

import (
	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// peoplePage is who may sign in, and the form to add somebody.
type peoplePage struct {
	Frame
	People []job.Person
	Gone   []job.Person // who may no longer
	You    int64
	Head   string
	Fields []Field
}

func (s *site) people(r *request) error {
	f := blank(map[string]string{"role": string(job.Operator)})
	if r.isPost() {
		f = readForm(r)
		done, err := s.personAdd(r, f)
		if err != nil {
			return err
		}
		if done {
			return r.see("/people?done=kept")
		}
		r.Status(422)
	}
	everybody, err := s.Books.People(r.Context())
	if err != nil {
		return err
	}
	page := peoplePage{Frame: r.frame("business", "People"), You: r.person.ID, Fields: f.fields(personFields()...)}
	page.Head = f.head()
	for _, p := range everybody {
		if p.Left {
			page.Gone = append(page.Gone, p)
		} else {
			page.People = append(page.People, p)
		}
	}
	return r.show("people", page)
}

func personFields() []Field {
	return []Field{
		{Name: "name", Label: "Name", Required: true, Hint: "They sign in with it, and the journal calls them by it."},
		{Name: "role", Label: "Who they are", Kind: "select", Required: true, Options: []Option{
			{string(job.Operator), "operator"}, {string(job.Contractor), "contractor"},
		}, Hint: "An operator sees the truck, the shed and the machines; a contractor sees and changes everything."},
		{Name: "password", Label: "Password", Kind: "password", Required: true, Hint: "At least 10 characters. Tell it to them in person."},
	}
}

// personAdd keeps the person typed. done is false when the form says what to change.
func (s *site) personAdd(r *request, f *form) (done bool, err error) {
	person := job.Person{Name: f.must("name", "Enter the person's name."), Role: job.Role(f.typed["role"])}
	if person.Role != job.Operator && person.Role != job.Contractor {
		f.refuse("role", "Choose operator or contractor.")
	}
	password := f.password("password")
	if !f.ok() {
		return false, nil
	}
	if person.PasswordHash, err = s.door.hash(password); err != nil {
		return false, err
	}
	if _, err := s.Books.AddPerson(r.Context(), r.act(), person); err != nil {
		return false, f.take(err)
	}
	return true, nil
}

func (s *site) passwordChange(r *request) error {
	person, err := s.personOf(r)
	if err != nil {
		return err
	}
	f := blank(nil)
	if r.isPost() {
		f = readForm(r)
		if chosen := f.password("password"); f.ok() {
			hash, err := s.door.hash(chosen)
			if err != nil {
				return err
			}
			if err := s.Books.ChangePassword(r.Context(), r.act(), person.ID, hash, hashed(r.Cookies(cookieName))); err == nil {
				return r.see("/people?done=kept")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("business", "A new password for "+person.Name), Button: "Keep the password", Back: "/people",
		Groups: []group{{Fields: []Field{{Name: "password", Label: "New password", Kind: "password", Required: true, Hint: "At least 10 characters."}}}},
	})
}

// personOf is the person of the path.
func (s *site) personOf(r *request) (job.Person, error) {
	id, err := r.id("id")
	if err != nil {
		return job.Person{}, err
	}
	everybody, err := s.Books.People(r.Context())
	if err != nil {
		return job.Person{}, err
	}
	for _, p := range everybody {
		if p.ID == id {
			return p, nil
		}
	}
	return job.Person{}, fault.Miss("There is no such person.")
}

func (s *site) personGo(r *request) error {
	person, err := s.personOf(r)
	if err != nil {
		return err
	}
	if err := s.Books.LetGo(r.Context(), r.act(), person.ID); err != nil {
		return err
	}
	if person.ID == r.person.ID {
		return r.see("/enter")
	}
	return r.see("/people?done=gone")
}
