// Package site is what a browser sees: pages, forms, sessions, the farmer's link. It
// works no figure out (package job does), keeps nothing itself (the store does) and
// draws no paper. It declares the small interfaces that it needs; cmd joins them.
package site

import (
	"io/fs"
	"log/slog"
	"time"

	"github.com/gofiber/fiber/v2"
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
	noteBooks
	sownBooks
	paperBooks
	quoteBooks
	alternativeBooks
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
	Ends   <-chan struct{} // closed when the program is told to end; nil for never
	Origin string          // "https://…" when the program stands behind a proxy; "" to take the request's own
}

// site is what every handler shares.
type site struct {
	Options
	door  *door
	views *views
}

// New builds the site. A page that does not parse is an error here, not on its first visit.
func New(o Options) (*fiber.App, error) {
	views, err := parseViews(o.Pages, o.Asset)
	if err != nil {
		return nil, err
	}
	s := &site{Options: o, door: newDoor(), views: views}
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
	app.Server().HeaderReceived = s.roomFor
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
