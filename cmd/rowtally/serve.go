package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"net"
	"os"
	"time"
	_ "time/tzdata" // the business's days are its own zone's, also on a machine without zones

	"rowtally/internal/paper"
	"rowtally/internal/site"
	"rowtally/internal/store"
	"rowtally/web"
)

// grace is how long requests under way may take once the program is told to end.
const grace = 4 * time.Second

// serve runs the program until it is told to end.
func serve(ctx context.Context, args []string, _ io.Reader, out io.Writer) error {
	o, _, err := parse("serve", args, out, func(set *flag.FlagSet, o *options) { addrFlag(set, o); dataFlag(set, o) })
	if err != nil {
		return err
	}
	log := slog.New(slog.NewJSONHandler(os.Stderr, nil))
	books, err := store.Open(ctx, o.where(log))
	if err != nil {
		return err
	}
	defer books.Close()
	if err := books.ForgetKeys(ctx, time.Now()); err != nil {
		return err
	}
	listener, err := net.Listen("tcp", o.addr)
	if err != nil {
		return fmt.Errorf("listen on %s: %w", o.addr, err)
	}
	fmt.Fprintf(out, "Rowtally is at http://%s\n", listener.Addr())
	return answer(ctx, listener, books, time.Now, log)
}

// answer joins the site to its books and answers until ctx ends, then lets requests
// under way finish.
func answer(ctx context.Context, listener net.Listener, books *store.Store, now func() time.Time, log *slog.Logger) error {
	fonts, err := fs.Sub(web.Dist, "font")
	if err != nil {
		return err
	}
	press, err := paper.New(fonts)
	if err != nil {
		return err
	}
	app, err := site.New(site.Options{
		Books: books, Press: press, Pages: web.Pages, Dist: web.Dist, Asset: web.Asset,
		Now: now, Log: log, Ends: ctx.Done(), Origin: os.Getenv("ROWTALLY_ORIGIN"),
	})
	if err != nil {
		return err
	}
	failed := make(chan error, 1)
	go func() { failed <- app.Listener(listener) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
		return app.ShutdownWithTimeout(grace)
	}
}
