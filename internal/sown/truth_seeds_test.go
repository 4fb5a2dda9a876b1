//go:build !race

package sown

// truthSeeds is how many logs of each kind the truth table has.
const truthSeeds = 24
