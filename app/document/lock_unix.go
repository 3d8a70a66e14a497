//go:build unix

package document

import (
	"errors"
	"os"
	"syscall"
)

// lock marks a file as held by a living program; errTaken where another one holds it, any other error where files cannot be locked there. The
// system lets go when the program dies.
func lock(f *os.File) error {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return errTaken
	}
	return err
}
