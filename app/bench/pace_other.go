//go:build !linux

package bench

import "time"

var began = time.Now()

// busy is how long the program has run: the time a thread has had a processor is not told here.
func busy() time.Duration { return time.Since(began) }
