//go:build race

package sown

// truthSeeds is how many logs of each kind the truth table has; the race detector makes each
// ten times as slow.
const truthSeeds = 4
