//go:build unix

package document

import (
	"os"
	"syscall"
)

// lock marks a record as held by a living program; it fails where another one holds it. The system lets go when the program dies.
func lock(f *os.File) bool { return syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) == nil }
