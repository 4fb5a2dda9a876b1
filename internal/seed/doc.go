// Package seed holds seed lots and what is known of their life: germination tests and
// whether their replicates agree, limits around what was counted, pure live seed, how a
// lot keeps in store, and the share of placements that its live seeds fill. It refuses to
// know stock, prices of a job, and what a lot is mixed with.
package seed
