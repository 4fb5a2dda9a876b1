// Package count holds emergence counts: how many short stretches are wanted and where they
// lie, what was counted in them, the share of placements occupied with its interval, and
// what counts teach of the share of live seeds that become plants. Neighbours fail together,
// and every figure here allows for it. It refuses to know how rows are laid, what was sown
// in them and what it cost.
package count
