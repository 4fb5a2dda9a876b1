package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"

	"rowtally/internal/fault"
	"rowtally/internal/store"
)

// errBroken ends a verify that found broken laws, which are printed already.
var errBroken = errors.New("the store breaks its laws")

// verify prints each broken law of the store on a line of its own.
func verify(ctx context.Context, args []string, _ io.Reader, out io.Writer) error {
	o, _, err := parse("verify", args, out, func(set *flag.FlagSet, o *options) { dataFlag(set, o); jsonFlag(set, o) })
	if err != nil {
		return err
	}
	books, err := store.Open(ctx, o.where(nil))
	if err != nil {
		return err
	}
	defer books.Close()
	broken, err := books.Verify(ctx)
	if err != nil {
		return err
	}
	if o.json {
		err = json.NewEncoder(out).Encode(map[string]any{"broken": append([]string{}, broken...)})
	} else {
		for _, law := range broken {
			fmt.Fprintln(out, law)
		}
	}
	if err == nil && len(broken) > 0 {
		return errBroken
	}
	return err
}

// backup copies the store while it is in use.
func backup(ctx context.Context, args []string, _ io.Reader, out io.Writer) error {
	o, files, err := parse("backup", args, out, dataFlag)
	if err != nil {
		return err
	}
	if len(files) != 1 {
		return fault.Refuse("", "name the file to copy to: rowtally backup FILE")
	}
	books, err := store.Open(ctx, o.where(nil))
	if err != nil {
		return err
	}
	defer books.Close()
	if err := books.Backup(ctx, files[0]); err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "copied to %s and read through\n", files[0])
	return err
}

// restore puts a copy in the store's place.
func restore(_ context.Context, args []string, _ io.Reader, out io.Writer) error {
	o, files, err := parse("restore", args, out, func(set *flag.FlagSet, o *options) {
		dataFlag(set, o)
		set.BoolVar(&o.overwrite, "overwrite", false, "replace the store that is there")
	})
	if err != nil {
		return err
	}
	if len(files) != 1 {
		return fault.Refuse("", "name the copy: rowtally restore FILE")
	}
	if err := store.Restore(files[0], o.data, o.overwrite); err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "restored %s into %s\n", files[0], o.data)
	return err
}
