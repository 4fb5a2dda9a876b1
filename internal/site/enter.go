package site

import (
	"net/url"
	"strings"

	"github.com/gofiber/fiber/v2"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

func (s *site) doorRoutes() []route {
	return []route{
		{method: get, path: "/healthz", open: alive, answer: s.healthy},
		{method: get, path: "/readyz", open: alive, answer: s.ready},
		{method: get, path: "/begin", open: firstRun, answer: s.begin},
		{method: post, path: "/begin", open: firstRun, answer: s.begin},
		{method: get, path: "/enter", open: anyone, answer: s.enter},
		{method: post, path: "/enter", open: anyone, answer: s.enter},
		field(post, "/leave", s.leave),
	}
}

// enterPage is the sign-in form.
type enterPage struct {
	Frame
	Head   string
	To     string // where the browser wanted to go
	Fields []Field
}

func (s *site) enter(r *request) error {
	if r.isPost() {
		return s.enterPost(r)
	}
	if to := r.Query("to"); r.person.ID == 0 {
		return r.drawEnter(blank(map[string]string{"to": to}), fiber.StatusOK)
	} else {
		return r.see(onward(to))
	}
}

func (s *site) enterPost(r *request) error {
	f := readForm(r)
	person, status, err := s.known(r, f)
	if err != nil {
		return err
	}
	if person.ID == 0 {
		return r.drawEnter(f, status)
	}
	if err := s.letIn(r, person.ID); err != nil {
		return err
	}
	return r.see(onward(f.typed["to"]))
}

func (r *request) drawEnter(f *form, status int) error {
	r.Status(status)
	page := enterPage{Frame: r.frame("", "Sign in"), To: f.typed["to"], Fields: f.fields(
		Field{Name: "name", Label: "Name", Required: true},
		Field{Name: "password", Label: "Password", Kind: "password", Required: true},
	)}
	page.Head = f.head()
	return r.show("enter", page)
}

// known is the person whose name and password were typed; nobody, and the status to
// answer with, when they do not fit. Whether the name or the password is wrong, it takes
// as long and says the same.
func (s *site) known(r *request, f *form) (person job.Person, status int, err error) {
	name := f.must("name", "Enter your name as the contractor wrote it down.")
	password := f.must("password", "Enter your password.")
	if !f.ok() {
		return job.Person{}, fiber.StatusUnprocessableEntity, nil
	}
	who := strings.ToLower(name) + "\n" + r.IP()
	if s.door.tries.spent(who, s.door.clock()) {
		f.refuse("", "Too many wrong passwords for this name. Wait 15 minutes, then try again, or ask the contractor for a new one.")
		return job.Person{}, fiber.StatusTooManyRequests, nil
	}
	person, err = s.Books.PersonNamed(r.Context(), name)
	if err != nil && fault.KindOf(err) != fault.Missing {
		return job.Person{}, 0, err
	}
	same, err := s.door.matches(password, person.PasswordHash)
	if err != nil {
		return job.Person{}, 0, err
	}
	if !same || person.Left {
		s.door.tries.missed(who, s.door.clock())
		f.refuse("", "Name and password do not fit together. Check both; capitals count in the password.")
		return job.Person{}, fiber.StatusUnprocessableEntity, nil
	}
	s.door.tries.met(who)
	return person, 0, nil
}

// returnTo is the page to come back to after signing in: the one asked for, or for a post
// the page whose form it was.
func (r *request) returnTo() string {
	if !r.isPost() {
		return r.OriginalURL()
	}
	from, err := url.Parse(r.Get(fiber.HeaderReferer))
	if err != nil || from.Host != r.Get(fiber.HeaderHost) {
		return "/"
	}
	return from.RequestURI()
}

// onward is where a person goes after signing in: where they wanted to, if that is a
// page of ours, else to the first page.
func onward(to string) string {
	if local(to) {
		return to
	}
	return "/"
}

// local tells whether a path stays on this site. Browsers read a backslash as a slash,
// and drop tabs and line ends, before they look where an address leads.
func local(to string) bool {
	if !strings.HasPrefix(to, "/") || strings.HasPrefix(to, "//") || strings.ContainsFunc(to, func(c rune) bool { return c == '\\' || c < ' ' }) {
		return false
	}
	u, err := url.Parse(to)
	return err == nil && u.Host == "" && u.Scheme == "" && u.Path != "/enter" && u.Path != "/leave"
}

func (s *site) leave(r *request) error {
	if err := s.Books.CloseSession(r.Context(), hashed(r.Cookies(cookieName))); err != nil {
		return err
	}
	r.Cookie(&fiber.Cookie{Name: cookieName, Path: "/", MaxAge: -1, HTTPOnly: true, SameSite: "Lax", Secure: s.secure(r.Ctx)})
	return r.see("/enter")
}
