package rows

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// sideBySide does a piece of work for each number from 0 to count less one, on every core
// there is; begin makes what one core works with. Each piece must write to its own place
// alone, so that the outcome does not depend on which core did it. Of several errors the one
// with the lowest number is told.
func sideBySide(count int, begin func() func(i int) error) error {
	errs := make([]error, count)
	var next atomic.Int64
	var working sync.WaitGroup
	for range min(count, runtime.GOMAXPROCS(0)) {
		working.Go(func() {
			act := begin()
			for i := int(next.Add(1)) - 1; i < count; i = int(next.Add(1)) - 1 {
				if errs[i] = act(i); errs[i] != nil {
					return
				}
			}
		})
	}
	working.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
