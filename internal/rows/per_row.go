package rows

// perRow holds a list for each row in one piece of memory. It is filled in two turns: what
// falls on each row is counted first, then kept; what one layout took serves the next.
type perRow[T any] struct {
	start  []int // of each row's room, and the end of the last
	filled []int
	all    []T
}

// counts begins a perRow anew, with a count of 0 for each of so many rows.
func (p *perRow[T]) counts(rows int) []int {
	p.filled = again(p.filled, rows)
	clear(p.filled)
	return p.filled
}

// room makes room for what was counted.
func (p *perRow[T]) room() {
	p.start = append(p.start[:0], 0)
	for _, count := range p.filled {
		p.start = append(p.start, p.start[len(p.start)-1]+count)
	}
	p.all = again(p.all, p.start[len(p.filled)])
	clear(p.filled)
}

// again is a list of so many, in the memory of an old one where that holds them.
func again[T any](old []T, count int) []T {
	if cap(old) < count {
		return make([]T, count)
	}
	return old[:count]
}

func (p *perRow[T]) add(row int, value T) {
	p.all[p.start[row]+p.filled[row]] = value
	p.filled[row]++
}

func (p *perRow[T]) of(row int) []T {
	return p.all[p.start[row] : p.start[row]+p.filled[row]]
}
