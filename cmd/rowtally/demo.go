package main

import (
	"cmp"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net"
	"os"
	"path/filepath"

	"rowtally/internal/demo"
	"rowtally/internal/fault"
	"rowtally/internal/site"
	"rowtally/internal/store"
)

// demoCommand makes a fresh demo store and runs the program on it.
func demoCommand(ctx context.Context, args []string, _ io.Reader, out io.Writer) error {
	o, _, err := parse("demo", args, out, func(set *flag.FlagSet, o *options) {
		addrFlag(set, o)
		jsonFlag(set, o)
		set.StringVar(&o.data, "data", filepath.Join(cmp.Or(os.Getenv("ROWTALLY_DATA"), "data"), "demo"), "folder of the demo store, which is emptied")
	})
	if err != nil {
		return err
	}
	if err := clearDemo(ctx, o.data); err != nil {
		return err
	}
	log := slog.New(slog.NewJSONHandler(os.Stderr, &slog.HandlerOptions{Level: slog.LevelWarn}))
	books, err := store.Open(ctx, store.Options{Dir: o.data, Log: log})
	if err != nil {
		return err
	}
	defer books.Close()
	town, err := demo.Build(ctx, books, site.HashPassword)
	if err != nil {
		return err
	}
	listener, err := net.Listen("tcp", o.addr)
	if err != nil {
		return fmt.Errorf("listen on %s: %w", o.addr, err)
	}
	if err := tell(out, "http://"+listener.Addr().String(), town, o.json); err != nil {
		return err
	}
	return answer(ctx, listener, books, demo.Now, log)
}

// clearDemo empties the folder of an earlier demo. A store that is no demo's is left alone.
func clearDemo(ctx context.Context, dir string) error {
	file := filepath.Join(dir, store.File)
	if _, err := os.Stat(file); os.IsNotExist(err) {
		return nil
	}
	books, err := store.Open(ctx, store.Options{Dir: dir})
	if err != nil {
		return err
	}
	business, err := books.Business(ctx)
	if closed := books.Close(); closed != nil {
		return closed
	}
	if err == nil && business.DemoDay == "" {
		return fault.Conflict("%s holds a store that is not a demo's: name another folder with --data", dir)
	}
	if err != nil && fault.KindOf(err) != fault.Missing {
		return err
	}
	for _, ending := range []string{"", "-wal", "-shm"} {
		if err := os.Remove(file + ending); err != nil && !os.IsNotExist(err) {
			return err
		}
	}
	return nil
}

// invitation is what the demo says of itself, also in JSON.
type invitation struct {
	Address     string          `json:"address"`
	People      []invitedPerson `json:"people"`
	FarmerLinks []invitedFarm   `json:"farmer_links"`
}

type invitedPerson struct {
	Role     string `json:"role"`
	Name     string `json:"name"`
	Password string `json:"password"`
}

type invitedFarm struct {
	Farm string `json:"farm"`
	URL  string `json:"url"`
}

// tell prints the address, how to sign in, and the farmers' links.
func tell(out io.Writer, address string, town demo.Town, asJSON bool) error {
	said := invitation{Address: address}
	for _, p := range town.People {
		said.People = append(said.People, invitedPerson{p.Role, p.Name, p.Password})
	}
	for _, l := range town.Links {
		said.FarmerLinks = append(said.FarmerLinks, invitedFarm{l.Farm, address + "/farm/" + l.Token})
	}
	if asJSON {
		return json.NewEncoder(out).Encode(said)
	}
	fmt.Fprintf(out, "Rowtally's demo is at %s. Everything in it is invented; its day is %s.\n\n", address, demo.Day)
	for _, p := range said.People {
		fmt.Fprintf(out, "  sign in as  %-20s password  %s\n", p.Name, p.Password)
	}
	fmt.Fprintln(out)
	for _, l := range said.FarmerLinks {
		fmt.Fprintf(out, "  %-18s %s\n", l.Farm, l.URL)
	}
	_, err := fmt.Fprintln(out, "\nCtrl-C ends it.")
	return err
}
