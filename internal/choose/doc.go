// Package choose picks the lots that supply jobs, along their rows by live seed and between them by
// the kilograms that a rate counts: the cheapest set for one job, and one allotment for all
// agreed jobs at once, by linear programming. It refuses to know pages,
// and keeps nothing: what it proposes, a person keeps or leaves.
//
// The program is solved by a simplex of its own, made for columns of two entries with upper
// bounds. Gonum's, which the tests hold it against, keeps whole matrices and a row for each
// bound: 30 needs and 60 lots take it longer than 60 and 120 take this one, without any
// bound on a lot's share.
package choose
