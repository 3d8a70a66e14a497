package job_test

import (
	"os"
	"path/filepath"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTheBackupIsTheJobBefore(t *testing.T) {
	name := filepath.Join(t.TempDir(), "a.axleloft")
	backup := filepath.Join(filepath.Dir(name), "a.before.axleloft")
	require.Equal(t, backup, job.BeforeName(name))
	require.Equal(t, "odd.txt.before.axleloft", job.BeforeName("odd.txt"))
	j := demo(t, "rescue-tender")
	require.NoError(t, job.KeepBefore(name, j))
	require.NoFileExists(t, backup, "a new file has nothing before it")
	for _, title := range []string{"A", "B", "C"} {
		j.Title = title
		require.NoError(t, job.KeepBefore(name, j))
		require.NoError(t, job.WriteFile(name, j))
	}
	titled := func() string {
		b, err := job.ReadFile(backup)
		require.NoError(t, err)
		return b.Title
	}
	assert.Equal(t, "B", titled())
	require.NoError(t, job.KeepBefore(name, j))
	assert.Equal(t, "B", titled(), "saved again unchanged: what was before stays")

	whole := content(t, name)
	require.NoError(t, os.WriteFile(name, []byte(whole[:len(whole)/2]), 0o600))
	require.NoError(t, job.KeepBefore(name, j))
	assert.Equal(t, "B", titled(), "half a file is never the backup")

	require.NoError(t, os.WriteFile(name, []byte(whole), 0o600))
	j.Title = "D"
	require.NoError(t, os.Remove(backup))
	require.NoError(t, os.Mkdir(backup, 0o700))
	assert.ErrorContains(t, job.KeepBefore(name, j), "a.before.axleloft is no plain file")
}

func TestLeftOvers(t *testing.T) {
	for left, want := range map[string]bool{
		".a.axleloft8123456789": true, ".a.axleloft": false, ".a.axleloft12": false, ".a.axleloft.autosave": false, ".a.axleloft812345678x": false,
		"a.axleloft8123456789": false, ".ab.axleloft8123456789": false,
	} {
		assert.Equal(t, want, job.IsLeftOver(left, "x/a.axleloft"), left)
	}
}
