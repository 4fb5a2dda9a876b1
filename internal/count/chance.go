package count

import "math/bits"

// Chance is a row of random numbers that its first number settles, so that a plan can be
// drawn again. It is the generator SplitMix64.
// Source: Steele, Lea & Flood 2014, Fast splittable pseudorandom number generators, OOPSLA.
type Chance struct{ state uint64 }

// NewChance begins a row of random numbers.
func NewChance(number int64) *Chance { return &Chance{uint64(number)} }

func (c *Chance) next() uint64 {
	c.state += 0x9e3779b97f4a7c15
	z := c.state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// fraction is an even number from 0 to below 1.
func (c *Chance) fraction() float64 { return float64(c.next()>>11) / (1 << 53) }

// below is an even whole number from 0 to below n, every one as likely: what would favour
// the lower ones is drawn again.
// Source: Lemire 2019, Fast random integer generation in an interval, ACM TOMACS 29(1).
func (c *Chance) below(n int) int {
	limit := uint64(n)
	for {
		high, low := bits.Mul64(c.next(), limit)
		if low >= -limit%limit {
			return int(high)
		}
	}
}
