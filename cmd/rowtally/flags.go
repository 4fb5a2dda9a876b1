package main

import (
	"cmp"
	"errors"
	"flag"
	"io"
	"log/slog"
	"os"

	"rowtally/internal/fault"
	"rowtally/internal/store"
)

// errHelped ends a command that was asked for its help.
var errHelped = errors.New("helped")

// options are the flags that commands share.
type options struct {
	addr, data      string
	json, overwrite bool
}

// parse reads a command's flags; files are what stands after them.
func parse(name string, args []string, out io.Writer, declare func(*flag.FlagSet, *options)) (o options, files []string, err error) {
	set := flag.NewFlagSet("rowtally "+name, flag.ContinueOnError)
	set.SetOutput(out)
	declare(set, &o)
	if err := set.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return o, nil, errHelped
		}
		return o, nil, fault.Refuse("", "%v", err)
	}
	return o, set.Args(), nil
}

func addrFlag(set *flag.FlagSet, o *options) {
	set.StringVar(&o.addr, "addr", cmp.Or(os.Getenv("ROWTALLY_ADDR"), "127.0.0.1:8080"), "address to listen on")
}

func dataFlag(set *flag.FlagSet, o *options) {
	set.StringVar(&o.data, "data", cmp.Or(os.Getenv("ROWTALLY_DATA"), "data"), "folder of the store")
}

func jsonFlag(set *flag.FlagSet, o *options) {
	set.BoolVar(&o.json, "json", false, "answer in JSON")
}

// where is the store that the flags and the environment name.
func (o options) where(log *slog.Logger) store.Options {
	return store.Options{Dir: o.data, DatabaseURL: os.Getenv("ROWTALLY_DATABASE_URL"), Log: log}
}
