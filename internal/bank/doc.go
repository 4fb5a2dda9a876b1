// Package bank reads what a bank says of an account, as ISO 20022 camt.053 or as CSV whose
// columns somebody named, and proposes which invoices the money pays. It keeps nothing and
// decides nothing: a person takes a proposal or leaves it.
package bank
