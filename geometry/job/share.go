package job

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// Nearest returns the known word closest to the given one by the number of letters to change, "" where none is close.
func Nearest(word string, known []string) string { return nearest(word, known) }

// MachineWords puts what the machine said about a file into plain words, without a full stop.
func MachineWords(err error) string { return machineWords(err) }

// Replace puts data in the place of the named file in one step: the whole of it or, where the error says so in a sentence, nothing.
// It writes through a link, not over it, and never over a folder or a read-only file.
func Replace(name string, data []byte) error {
	if real, err := filepath.EvalSymlinks(name); err == nil {
		name = real
	}
	if info, err := os.Stat(name); err == nil {
		switch {
		case info.IsDir():
			return fmt.Errorf("%s is a folder. Give a file name in it.", name)
		case info.Mode().Perm()&0o200 == 0:
			return fmt.Errorf("%s is read-only. Write to another name, or make it writable.", name)
		}
	}
	if err := replace(name, data); err != nil {
		var p *os.PathError
		if errors.As(err, &p) {
			err = p.Err
		}
		return fmt.Errorf("%s was not written: %s. What was on the disk is unchanged.", name, machineWords(err))
	}
	return nil
}
