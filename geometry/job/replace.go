//go:build !windows

package job

import (
	"path/filepath"

	"github.com/google/renameio/v2"
)

// replace puts data in the place of the named file in one step. A new file gets 0644 less the user's mask.
func replace(name string, data []byte) error {
	return renameio.WriteFile(name, data, 0o644, renameio.WithTempDir(filepath.Dir(name)))
}
