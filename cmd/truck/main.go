//go:build !js

package main

import (
	"bufio"
	"io"
	"os"
)

// main answers one call a line, as the page's engine does.
func main() {
	var e engine
	in := bufio.NewReader(os.Stdin)
	for {
		line, err := in.ReadBytes('\n')
		if len(line) > 1 {
			os.Stdout.Write(append(e.answer(line), '\n'))
		}
		if err == io.EOF {
			return
		}
	}
}
