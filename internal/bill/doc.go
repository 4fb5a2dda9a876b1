// Package bill adds up quotes and invoices, taxes them, values stock and compares what
// was planned with what was spent. Every figure is an exact decimal. It refuses to know
// rows, mixes and machines: they hand it quantities and prices.
package bill
