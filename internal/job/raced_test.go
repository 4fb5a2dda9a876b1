//go:build race

package job

// raced tells whether the race detector is in the program: it takes memory and time of its own.
const raced = true
