//go:build linux

package document

import (
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// small mounts a disk of so many bytes, where this user may.
func small(t *testing.T, size string) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("none", dir, "tmpfs", 0, "size="+size); err != nil {
		t.Skip("no small disk can be mounted here:", err)
	}
	t.Cleanup(func() { assert.NoError(t, syscall.Unmount(dir, syscall.MNT_DETACH)) })
	return dir
}

// fill fills a disk to the last byte with a file and returns its name.
func fill(t *testing.T, dir string) string {
	t.Helper()
	name := filepath.Join(dir, "other")
	f, err := os.Create(name)
	require.NoError(t, err)
	defer f.Close()
	for {
		if _, err := f.Write(make([]byte, 512)); err != nil {
			require.ErrorIs(t, err, syscall.ENOSPC)
			return name
		}
	}
}

const diskFull = "Not saved: the disk is full. Save it somewhere else. What was on the disk is unchanged."

// The disk of the job fills up: the work is kept in the state folder, the save says why it fails, the file stays, and the save works when there is room.
func TestAFullDiskLosesNothing(t *testing.T) {
	quickly(t)
	dir, state := small(t, "128k"), t.TempDir()
	file := filepath.Join(dir, "job.axleloft")
	require.NoError(t, job.WriteFile(file, demo(t, "survey-wagon")))
	whole, err := os.ReadFile(file)
	require.NoError(t, err)
	o := Options{StateDir: state, Autosave: true}
	d, err := Open(file, o)
	require.NoError(t, err)
	other := fill(t, dir)
	wait := keptDocument(t, d)
	require.NoError(t, d.Edit("title", "", title("A")))
	wait()
	assert.Equal(t, diskFull, Words(d.Save()))
	now, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(whole), string(now))
	assert.NotContains(t, names(t, dir), filepath.Base(job.BeforeName(file)), "no backup half written")
	assert.True(t, d.Dirty())
	d.Close()
	lost := FindLost(state, nil)
	require.Len(t, lost, 1)
	assert.Equal(t, "A", lost[0].Title)
	d, err = Recover(lost[0], o)
	require.NoError(t, err)
	require.NoError(t, os.Remove(other))
	require.NoError(t, d.Save())
	d.Close()
	assert.Equal(t, []string{"job.axleloft", "job.before.axleloft"}, names(t, dir))
	assert.Empty(t, names(t, state))
}

// Every disk is full: that is said while it is so, what was kept last stays, and when there is room the work is kept without another edit.
func TestAFullDiskEverywhereIsSaid(t *testing.T) {
	quickly(t)
	disk := small(t, "128k")
	dir, state := filepath.Join(disk, "jobs"), filepath.Join(disk, "state")
	require.NoError(t, os.Mkdir(dir, 0o700))
	require.NoError(t, os.Mkdir(state, 0o700))
	file := filepath.Join(dir, "job.axleloft")
	require.NoError(t, job.WriteFile(file, demo(t, "survey-wagon")))
	posts := make(chan func(), 100)
	d, err := Open(file, Options{StateDir: state, Autosave: true, Post: func(f func()) { posts <- f }})
	require.NoError(t, err)
	until := func(what string, is func() bool) {
		t.Helper()
		for late := time.After(time.Minute); !is(); {
			select {
			case f := <-posts:
				f()
			case <-late:
				require.FailNow(t, what)
			}
		}
	}
	wait := keptDocument(t, d)
	require.NoError(t, d.Edit("title", "", title("kept")))
	wait()
	other := fill(t, disk)
	require.NoError(t, d.Edit("title", "", title("more")))
	until("nothing is said", func() bool { return d.AutosaveTrouble() != "" })
	assert.Equal(t, "Not kept against a power cut: the disk is full.", d.AutosaveTrouble())
	kept, err := job.ReadFile(beside(file))
	require.NoError(t, err)
	assert.Equal(t, "kept", kept.Title, "the last that could be kept is whole")
	require.NoError(t, os.Remove(other))
	until("it is never taken back", func() bool { return d.AutosaveTrouble() == "" })
	kept, err = job.ReadFile(beside(file))
	require.NoError(t, err)
	assert.Equal(t, "more", kept.Title)
	d.Discard()
	assert.Equal(t, []string{"job.axleloft"}, names(t, dir))
	assert.Empty(t, names(t, state))
}

// Where no disk can be mounted a limit on the size of files stands for a full one: neither job, backup nor autosave can be written.
func TestNoRoomForAnyFile(t *testing.T) {
	const mark = "AXLELOFT_TEST_NO_ROOM"
	if file := os.Getenv(mark); file != "" {
		signal.Ignore(syscall.SIGXFSZ)
		quickly(t)
		posts := make(chan func(), 100)
		d, err := Open(file, Options{StateDir: filepath.Join(filepath.Dir(file), "state"), Autosave: true, Post: func(f func()) { posts <- f }})
		require.NoError(t, err)
		require.NoError(t, syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: 100, Max: 100}))
		require.NoError(t, d.Edit("title", "", title("A")))
		for d.AutosaveTrouble() == "" {
			(<-posts)()
		}
		require.ErrorContains(t, d.Save(), "Not saved: the file may not grow that large here.")
		d.Discard()
		return
	}
	file := filepath.Join(t.TempDir(), "job.axleloft")
	require.NoError(t, job.WriteFile(file, demo(t, "survey-wagon")))
	whole, err := os.ReadFile(file)
	require.NoError(t, err)
	cmd := exec.Command(os.Args[0], "-test.run=^TestNoRoomForAnyFile$")
	cmd.Env = append(os.Environ(), mark+"="+file)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s", out)
	now, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(whole), string(now))
	assert.Equal(t, []string{"job.axleloft", "state"}, names(t, filepath.Dir(file)))
}
