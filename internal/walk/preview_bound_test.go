//go:build !race

package walk

// followsMS is within how many milliseconds the sooner pictures follow a slider.
const followsMS = 100
