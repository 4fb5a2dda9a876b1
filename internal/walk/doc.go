// Package walk holds tests alone: contractor, operator and farmer take jobs through the
// whole chain in a real browser, from the first run of the built program to the paid-for
// row-km. Figures on pages and papers are held against what `rowtally calc` answers for
// the same files and settings. It refuses to know any other package of the program.
package walk
