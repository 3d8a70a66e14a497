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

// Target is where a file of that name is written: through a link, not over it. A folder, a device or pipe, and
// a read-only file are refused in a sentence: they cannot be replaced.
func Target(name string) (string, error) {
	if real, err := filepath.EvalSymlinks(name); err == nil {
		name = real
	}
	if info, err := os.Stat(name); err == nil {
		switch {
		case info.IsDir():
			return "", fmt.Errorf("%s is a folder. Give a file name in it.", name)
		case !info.Mode().IsRegular():
			return "", fmt.Errorf("%s is no plain file, so it cannot be written whole or not at all. Give another name, or leave the file out.", name)
		case info.Mode().Perm()&0o200 == 0:
			return "", fmt.Errorf("%s is read-only. Write to another name, or make it writable.", name)
		}
	}
	return name, nil
}

// Replace puts data in the place of the named file in one step: the whole of it or, where the error says so in a sentence, nothing.
func Replace(name string, data []byte) error {
	name, err := Target(name)
	if err == nil {
		err = NotWritten(name, replace(name, data))
	}
	return err
}

// NotWritten words an error of writing a file; nil stays nil.
func NotWritten(name string, err error) error {
	if err == nil {
		return nil
	}
	var p *os.PathError
	if errors.As(err, &p) {
		err = p.Err
	}
	return fmt.Errorf("%s was not written: %s. What was on the disk is unchanged.", name, machineWords(err))
}
