package main

import (
	"context"
	"fmt"
	"io"

	"rowtally/internal/calc"
	"rowtally/internal/fault"
)

// calculate runs one calculation, or lists them.
func calculate(_ context.Context, args []string, in io.Reader, out io.Writer) error {
	name, lines, working := "", false, false
	for _, arg := range args {
		switch {
		case arg == "--lines":
			lines = true
		case arg == "--working":
			working = true
		case len(arg) > 0 && arg[0] == '-' || name != "":
			return fault.Refuse("", "%q means nothing here: rowtally calc NAME [--lines] [--working]", arg)
		default:
			name = arg
		}
	}
	if name == "" {
		for _, one := range calc.Names() {
			fmt.Fprintf(out, "%-20s %s\n", one[0], one[1])
		}
		return nil
	}
	return calc.Run(name, lines, working, in, out)
}
