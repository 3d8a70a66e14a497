package bench

import (
	"syscall"
	"time"
)

// busy is how long the calling thread has had a processor; what other work on the machine takes is not in it.
func busy() time.Duration {
	const thisThread = 1 // RUSAGE_THREAD
	var u syscall.Rusage
	if syscall.Getrusage(thisThread, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
