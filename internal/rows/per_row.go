package rows

// perRow holds a list for each row in one piece of memory.
type perRow[T any] struct {
	start  []int // of each row's room, and the end of the last
	filled []int
	all    []T
}

// room makes a perRow with room for a count of each row.
func room[T any](counts []int) perRow[T] {
	p := perRow[T]{start: make([]int, len(counts)+1), filled: make([]int, len(counts))}
	for i, count := range counts {
		p.start[i+1] = p.start[i] + count
	}
	p.all = make([]T, p.start[len(counts)])
	return p
}

func (p *perRow[T]) add(row int, value T) {
	p.all[p.start[row]+p.filled[row]] = value
	p.filled[row]++
}

func (p *perRow[T]) of(row int) []T {
	return p.all[p.start[row] : p.start[row]+p.filled[row]]
}
