// Package rules tests the repository's own shape: which package may import which, what a
// pure package may touch, how long a file may be, which words a screen may use, and that
// every published figure names its source. It holds no code of the program and refuses
// to know what any package is for.
package rules
