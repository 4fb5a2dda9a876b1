//go:build race

package sown

// truthSeeds is how many logs of each kind the truth table has; the race detector makes each
// ten times as slow.
const truthSeeds = 4

// truthErrors is how many of its standard errors the mean may lean: with three degrees of freedom
// as unlikely as three of a normal law (JCGM 100:2008, Table G.2, 99.73 %; from memory).
const truthErrors = 9.22
