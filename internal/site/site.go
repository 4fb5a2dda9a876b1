// Package site is what a browser sees: pages, forms, sessions, the farmer's link. It
// works no figure out (package job does), keeps nothing itself (the store does) and
// draws no paper. It declares the small interfaces that it needs; cmd joins them.
package site

import (
	"io/fs"
	"log/slog"
	"regexp"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/valyala/fasthttp"
)

// Books is all that the site asks of the store, a small interface for each page group.
type Books interface {
	doorBooks
	businessBooks
	taxBooks
	seasonBooks
	farmBooks
	readingBooks
	jobBooks
	mixingBooks
	shedBooks
	machineBooks
	truckBooks
	entryBooks
	sownBooks
	paperBooks
	quoteBooks
	accountBooks
	costBooks
	farmerBooks
	questionBooks
	countBooks
	recordBooks
	journalBooks
	readyBooks
}

// Options is what cmd joins to the site.
type Options struct {
	Books  Books
	Press  Press
	Pages  fs.FS                    // page/*.html and part/*.html
	Dist   fs.FS                    // built styles, scripts and fonts
	Asset  func(name string) string // path of a built file by its plain name
	Now    func() time.Time         // the moment of an act
	Log    *slog.Logger
	Origin string // "https://…" when the program stands behind a proxy; "" to take the request's own
}

// How much a request may carry: in general, and where a log is loaded. Both lie well above
// the largest file that is read, so that a file too large is refused in its form, with what
// was typed kept. A log may take long to arrive from the field.
const (
	bodyLimit    = 64 << 20
	logBodyLimit = 256 << 20
	readTimeout  = 30 * time.Second
	logTimeout   = 10 * time.Minute
)

// logsPath is where a log is loaded.
var logsPath = regexp.MustCompile(`^/jobs/\d+/sown$`)

// bodyLimitAt is how many bytes a request to a path may carry.
func bodyLimitAt(path string) int {
	if logsPath.MatchString(path) {
		return logBodyLimit
	}
	return bodyLimit
}

// roomFor gives a log its room and time, by the head of the request.
func roomFor(head *fasthttp.RequestHeader) fasthttp.RequestConfig {
	path, _, _ := strings.Cut(string(head.RequestURI()), "?")
	if limit := bodyLimitAt(path); limit > bodyLimit && head.IsPost() {
		return fasthttp.RequestConfig{MaxRequestBodySize: limit, ReadTimeout: logTimeout}
	}
	return fasthttp.RequestConfig{}
}

// site is what every handler shares.
type site struct {
	Options
	door *door
}

// New builds the site. A page that does not parse is an error here, not on its first visit.
func New(o Options) (*fiber.App, error) {
	views, err := parseViews(o.Pages, o.Asset)
	if err != nil {
		return nil, err
	}
	s := &site{Options: o, door: newDoor()}
	app := fiber.New(fiber.Config{
		AppName:               "Rowtally",
		Views:                 views,
		Immutable:             true,
		BodyLimit:             bodyLimit,
		ReadTimeout:           readTimeout,
		WriteTimeout:          60 * time.Second,
		IdleTimeout:           60 * time.Second,
		DisableStartupMessage: true,
		ErrorHandler:          s.unheard,
	})
	app.Server().HeaderReceived = roomFor
	app.Use(s.logged, guarded)
	s.serveDist(app)
	for _, r := range s.routes() {
		if r.method == get {
			app.Head(r.path, s.admit(r))
		}
		app.Add(r.method, r.path, s.admit(r))
	}
	app.Use(s.admit(route{open: anyone, answer: func(*request) error { return noPage() }}))
	return app, nil
}
