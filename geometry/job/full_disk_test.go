//go:build unix

package job_test

import (
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"syscall"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A device that is always full stands for a full disk.
func TestWriteFullDisk(t *testing.T) {
	f, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("this system has no full device:", err)
	}
	defer f.Close()
	err = job.Write(f, demo(t, "rescue-tender"))
	require.ErrorIs(t, err, syscall.ENOSPC)
	assert.Equal(t, "Not saved: the disk is full. Save it somewhere else. What was on the disk is unchanged.", err.Error())
}

// The same through WriteFile: no file may grow past a few bytes, so the temporary one cannot be filled, and the old one stays.
func TestWriteFileOnFullDisk(t *testing.T) {
	const child = "JOB_TEST_FULL"
	if name := os.Getenv(child); name != "" {
		signal.Ignore(syscall.SIGXFSZ)
		require.NoError(t, syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: 100, Max: 100}))
		err := job.WriteFile(name, demo(t, "rescue-tender"))
		require.ErrorIs(t, err, syscall.EFBIG)
		require.ErrorContains(t, err, "Not saved: the file may not grow that large here.")
		return
	}
	dir := t.TempDir()
	name := filepath.Join(dir, "a.axleloft")
	require.NoError(t, os.WriteFile(name, []byte("old"), 0o600))
	cmd := exec.Command(os.Args[0], "-test.run=^TestWriteFileOnFullDisk$")
	cmd.Env = append(os.Environ(), child+"="+name)
	out, err := cmd.CombinedOutput()
	// The child's own output may be a file, which is under the same limit; its exit status tells.
	require.NoError(t, err, "%s", out)
	assert.Equal(t, "old", content(t, name))
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 1, "nothing is left lying about")
}
