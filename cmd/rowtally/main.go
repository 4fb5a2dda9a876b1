// Command rowtally is the program: the site, the demo, the calculations on their own, and
// the care of the store. It reads flags and joins the packages; it decides nothing else.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"rowtally/internal/calc"
	"rowtally/internal/fault"
)

const usage = `usage: rowtally COMMAND

  serve    [--addr 127.0.0.1:8080] [--data DIR]          the program
  demo     [--addr 127.0.0.1:8080] [--data DIR] [--json] a fresh demo store, then the program
  calc     [NAME [--lines] [--working]]                  a calculation: JSON in, JSON out; without NAME, their list
  verify   [--data DIR] [--json]                         whether the store obeys its laws
  backup   [--data DIR] FILE                             a copy of the store while it is in use
  restore  [--data DIR] [--overwrite] FILE               a copy put in the store's place

ROWTALLY_ADDR, ROWTALLY_DATA and ROWTALLY_DATABASE_URL stand for the flags and for a PostgreSQL store;
ROWTALLY_ORIGIN is the address that browsers use when the program stands behind a proxy.
`

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(status(run(ctx, os.Args[1:], os.Stdin, os.Stdout)))
}

// status says what went wrong, once, and gives the exit status: 0 done, 1 a law is broken
// or the machine failed, 2 the input was refused.
func status(err error) int {
	switch {
	case err == nil, errors.Is(err, errHelped):
		return 0
	case errors.Is(err, calc.ErrRefused):
		return 2
	case errors.Is(err, errBroken):
		return 1
	}
	fmt.Fprintf(os.Stderr, "rowtally: %v\n", err)
	if fault.KindOf(err) == fault.Refused {
		return 2
	}
	return 1
}

// run is the whole program, with what it reads and writes handed in.
func run(ctx context.Context, args []string, in io.Reader, out io.Writer) error {
	if len(args) == 0 {
		return fault.Refuse("", "no command is given\n%s", usage)
	}
	commands := map[string]func(context.Context, []string, io.Reader, io.Writer) error{
		"serve": serve, "demo": demoCommand, "calc": calculate, "verify": verify, "backup": backup, "restore": restore,
	}
	command, known := commands[args[0]]
	switch {
	case known:
		return command(ctx, args[1:], in, out)
	case args[0] == "help" || args[0] == "--help" || args[0] == "-h":
		_, err := io.WriteString(out, usage)
		return err
	}
	return fault.Refuse("", "there is no command %q\n%s", args[0], usage)
}
