//go:build !race

package sown

// truthSeeds is how many logs of each kind the truth table has.
const truthSeeds = 24

// truthErrors is how many of its standard errors the mean may lean.
const truthErrors = 3
