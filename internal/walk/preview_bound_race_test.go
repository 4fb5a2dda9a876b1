//go:build race

package walk

// followsMS is wide under the race detector, where every browser walks at once.
const followsMS = 1000
