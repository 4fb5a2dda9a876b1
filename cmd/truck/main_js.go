//go:build js

package main

import "syscall/js"

// main hands the engine to the page as rowtallyEngine(text) and stays.
func main() {
	var e engine
	js.Global().Set("rowtallyEngine", js.FuncOf(func(_ js.Value, args []js.Value) any {
		return string(e.answer([]byte(args[0].String())))
	}))
	select {}
}
