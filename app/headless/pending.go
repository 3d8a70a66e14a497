//go:build !windows

package headless

import (
	"path/filepath"

	"github.com/google/renameio/v2"
)

// pending is a file that takes the place of another when all of it is there.
type pending struct{ *renameio.PendingFile }

// newPending starts one beside the file it will replace. A new file gets 0644 less the user's mask.
func newPending(name string) (pending, error) {
	f, err := renameio.NewPendingFile(name, renameio.WithTempDir(filepath.Dir(name)), renameio.WithPermissions(0o644), renameio.WithExistingPermissions())
	return pending{f}, err
}

func (p pending) commit() error { return p.CloseAtomicallyReplace() }

// discard takes away what was not committed.
func (p pending) discard() { _ = p.Cleanup() }
