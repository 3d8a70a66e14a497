package headless

import (
	"os"
	"path/filepath"
)

// pending is a file that takes the place of another when all of it is there (renameio leaves this system out; a rename replaces here too).
type pending struct {
	*os.File
	name string
}

// newPending starts one beside the file it will replace.
func newPending(name string) (pending, error) {
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+"*")
	return pending{f, name}, err
}

func (p pending) commit() error {
	err := p.Sync()
	if e := p.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Rename(p.File.Name(), p.name)
	}
	return err
}

// discard takes away what was not committed.
func (p pending) discard() {
	_ = p.Close()
	_ = os.Remove(p.File.Name())
}
