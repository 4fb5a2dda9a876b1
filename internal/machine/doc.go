// Package machine works out what machines cost and how fast they work, and holds the
// machines and their day sheets. Percentages come from the published curves as floats and
// meet money as decimals; everything is carried at full precision and rounded to cents
// once, for show. It refuses to know jobs, prices charged and who pays.
package machine
