package limits

import "sync"

// Spread runs n pieces of work on some goroutines; which one does a piece does not matter to it.
func Spread(workers, n int, worker func() func(int)) {
	if workers == 1 {
		f := worker()
		for i := range n {
			f(i)
		}
		return
	}
	var wg sync.WaitGroup
	var mu sync.Mutex
	next := 0
	for range workers {
		wg.Go(func() {
			f := worker()
			for {
				mu.Lock()
				i := next
				next++
				mu.Unlock()
				if i >= n {
					return
				}
				f(i)
			}
		})
	}
	wg.Wait()
}
