package job

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A file is written beside a job once: never over another, never elsewhere, never in part.
func TestWriteBeside(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, WriteBeside(dir, "tank.stl", []byte("one")))
	assert.EqualError(t, WriteBeside(dir, "tank.stl", []byte("two")), `There is a file "tank.stl" beside the job already. Give yours another name.`)
	for _, name := range []string{"../tank.stl", "a/tank.stl", "", " tank.stl", `c:\tank.stl`} {
		assert.ErrorContains(t, WriteBeside(dir, name, nil), "is no plain name for a file beside the job", name)
	}
	assert.Error(t, WriteBeside(filepath.Join(dir, "gone"), "tank.stl", nil))
	list, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, list, 1)
	got, err := os.ReadFile(filepath.Join(dir, "tank.stl"))
	require.NoError(t, err)
	assert.Equal(t, "one", string(got))
}
