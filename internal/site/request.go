package site

import (
	"context"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/gofiber/fiber/v2"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// request is one request, with who makes it and the one moment at which it happens.
type request struct {
	*fiber.Ctx
	work     context.Context // ends with the handler
	business job.Business
	person   job.Person // zero when nobody is signed in
	csrf     string
	now      time.Time
}

// handler answers one request.
type handler func(*request) error

// Context is what the books are asked within. It is our own: the web library's lives on
// with the connection, and the database still looks at a context after its answer.
func (r *request) Context() context.Context { return r.work }

// today is the business's calendar day; the demo's is fixed.
func (r *request) today() unit.Date { return unit.DateOf(r.now) }

// act is an act of the person signed in, with the key that the form carried.
func (r *request) act() job.Act {
	return job.Act{PersonID: r.person.ID, Who: r.person.Name, Now: r.now, Key: r.key()}
}

// key makes a repeated post harmless. It counts within its path alone.
func (r *request) key() string {
	if key := r.FormValue("key"); key != "" {
		return r.Path() + " " + key
	}
	return ""
}

// id reads a number from the path; anything else is a page that does not exist.
func (r *request) id(name string) (int64, error) {
	n, err := r.ParamsInt(name)
	if err != nil || n < 1 {
		return 0, noPage()
	}
	return int64(n), nil
}

// see sends the browser on after a post, so that a reload repeats nothing.
func (r *request) see(path string) error { return r.Redirect(path, fiber.StatusSeeOther) }

// show renders a page; status is 200, or 422 when a form comes back with sentences.
func (r *request) show(page string, data any) error { return r.Render(page, data) }

// showPart renders one part of a page, for a script to put in its place.
func (r *request) showPart(page, part string, data any) error { return r.Render(page, data, part) }

// Frame is what the layout shows around every page.
type Frame struct {
	Title    string
	Here     string // which word of the top bar is meant
	Business string
	Person   string
	Role     job.Role
	CSRF     string
	Key      string // makes a repeat of the page's post harmless
	Today    unit.Date
	Demo     bool
	Notice   string
}

// frame fills the layout for this request. The notice is a sentence handed on by the
// page before.
func (r *request) frame(here, title string) Frame {
	return Frame{
		Title: title, Here: here, Business: r.business.Name,
		Person: r.person.Name, Role: r.person.Role, CSRF: r.csrf, Key: secret(),
		Today: r.today(), Demo: r.business.DemoDay != "", Notice: notices[r.Query("done")],
	}
}

// notices are the sentences that a page may be asked to show after an act.
var notices = map[string]string{
	"bank":     "What you chose is entered.",
	"kept":     "Kept.",
	"first":    "A job is work on a paddock. Add the farm and its paddock first.",
	"held":     "On hold. Nothing can be mixed from it.",
	"freed":    "No longer on hold.",
	"off":      "Taken off. The journal keeps that it was there.",
	"tested":   "Germination test kept. Live seed follows it.",
	"gone":     "They can no longer sign in.",
	"mixed":    "Tub mixed. The stock is drawn.",
	"voids":    "Kept with the recipe. Every tub below follows it.",
	"cleaned":  "Clean-out kept.",
	"drilled":  "The drill is loaded. The stock is drawn.",
	"undone":   "Undone. The stock is back.",
	"counted":  "Count kept.",
	"drawn":    "The places are drawn. They stay for both counts.",
	"caught":   "Catch test kept. The recipe below follows it.",
	"day":      "Day sheet kept.",
	"loaded":   "Log loaded and matched to the rows.",
	"matched":  "The logs are matched to the rows again.",
	"measured": "Kept. The logs are matched to the rows again.",
	"issued":   "Issued.",
	"asked":    "Your words are kept. The answer will stand below them, on this page.",
	"answered": "Your answer stands on the farmer's page.",
	"closed":   "The question is closed. Every word of it stays.",
	"agreed":   "Thank you. Your yes is kept with its time.",
	"told":     "The yes is kept, with how it was told.",
	"paid":     "Payment kept.",
	"over":     "Payment kept. More came than was owed: the rest is credit, and stands for the next invoice.",
	"placed":   "The credit is set against the oldest open invoice.",
	"link":     "The link is ready to copy.",
	"withdrew": "Withdrawn. The link no longer opens anything.",
}

func noPage() error {
	return fault.Miss("There is no such page. It may have been withdrawn, or the address is mistyped.")
}

func (r *request) isPost() bool { return r.Method() == fiber.MethodPost }

// base is the address that the program is reached by, for links that leave it.
func (r *request) base(origin string) string {
	if origin != "" {
		return origin
	}
	return r.Protocol() + "://" + r.Get(fiber.HeaderHost)
}

// sentence begins with a capital and ends with a point. A file's name at its head keeps
// its letters: it is looked for under them.
func sentence(s string) string {
	if s == "" {
		return s
	}
	if word, _, _ := strings.Cut(s, " "); !strings.Contains(strings.TrimRight(word, ".:,"), ".") {
		first, size := utf8.DecodeRuneInString(s)
		s = string(unicode.ToUpper(first)) + s[size:]
	}
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s
}

// named reads what the path's id names.
func named[T any](r *request, read func(context.Context, int64) (T, error)) (T, error) {
	id, err := r.id("id")
	if err != nil {
		var none T
		return none, err
	}
	return read(r.Context(), id)
}

// namedUnder reads what a word of the path names, if it hangs on what the path's id names.
func namedUnder[T any](r *request, word string, read func(context.Context, int64) (T, error), on func(T) int64) (row T, err error) {
	above, err := r.id("id")
	if err != nil {
		return row, err
	}
	id, err := r.id(word)
	if err != nil {
		return row, err
	}
	row, err = read(r.Context(), id)
	if err == nil && on(row) != above {
		err = noPage()
	}
	return row, err
}
