//go:build unix

package document

import (
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// away makes this program forget that it holds a job, as if another program did: the system's lock stays.
func away(t *testing.T, file string) (back func()) {
	t.Helper()
	of := resolved(file)
	holds.Lock()
	defer holds.Unlock()
	h := holds.of[of]
	require.NotNil(t, h)
	delete(holds.of, of)
	return func() {
		holds.Lock()
		defer holds.Unlock()
		holds.of[of] = h
	}
}

func TestTheSecondWindowIsToldAndSavesElsewhere(t *testing.T) {
	quickly(t)
	dir, state := t.TempDir(), t.TempDir()
	file := filepath.Join(dir, "job.axleloft")
	require.NoError(t, job.WriteFile(file, demo(t, "survey-wagon")))
	link := filepath.Join(dir, "also.axleloft")
	require.NoError(t, os.Symlink("job.axleloft", link))
	o := Options{StateDir: state, Autosave: true}
	first, err := Open(file, o)
	require.NoError(t, err)
	assert.Empty(t, first.Elsewhere())

	back := away(t, file)
	second, err := Open(link, o)
	require.NoError(t, err)
	assert.Regexp(t, `^“also” is open in another window \(since \d\d:\d\d\)\. You can look at it`, second.Elsewhere())
	wait := keptDocument(t, second)
	require.NoError(t, second.Edit("title", "", title("second")))
	wait()
	assert.NoFileExists(t, beside(file), "what the second keeps aside does not lie where the first one's will")
	assert.NoFileExists(t, beside(link))
	assert.ErrorIs(t, second.Save(), ErrElsewhere)
	assert.ErrorIs(t, second.SaveForced(), ErrElsewhere)
	assert.ErrorContains(t, second.SaveAs(file), "Choose another name", "nor by asking for that very file")
	now, err := job.ReadFile(file)
	require.NoError(t, err)
	assert.NotEqual(t, "second", now.Title)
	require.NoError(t, second.SaveAs(filepath.Join(dir, "own.axleloft")))
	assert.Empty(t, second.Elsewhere())
	second.Close()

	third, err := Open(file, o)
	require.NoError(t, err)
	require.NotEmpty(t, third.Elsewhere())
	require.NoError(t, third.Edit("title", "", title("third")))
	back()
	first.Close()
	require.NoError(t, third.Save(), "the other window is gone")
	assert.Empty(t, third.Elsewhere())
	third.Close()
	assert.Equal(t, []string{"also.axleloft", "job.axleloft", "job.before.axleloft", "own.axleloft"}, names(t, dir))
	assert.Empty(t, names(t, state))
}

// Documents of one program share a job: one that opens it again is not told of itself.
func TestOneProgramHoldsAJobOnce(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "job.axleloft")
	require.NoError(t, job.WriteFile(file, demo(t, "survey-wagon")))
	o := Options{StateDir: t.TempDir(), Autosave: true}
	a, err := Open(file, o)
	require.NoError(t, err)
	b, err := Open(file, o)
	require.NoError(t, err)
	assert.Empty(t, b.Elsewhere())
	a.Close()
	assert.FileExists(t, filepath.Join(dir, ".job.axleloft.open"))
	b.Close()
	assert.Equal(t, []string{"job.axleloft"}, names(t, dir))
}

func TestWhoHoldsAJob(t *testing.T) {
	me := self()
	assert.Empty(t, holder{User: me.User, Host: me.Host}.words())
	assert.Equal(t, " (bench-2)", holder{User: me.User, Host: "bench-2"}.words())
	assert.Equal(t, " (anna on bench-2)", holder{User: "anna", Host: "bench-2"}.words())
	assert.Contains(t, me.words(), " (since ")
}

// asNobody runs a test again as a user who owns nothing; the tests of what may not be written mean nothing to root.
func asNobody(t *testing.T, name string) (child bool) {
	t.Helper()
	const mark = "AXLELOFT_TEST_NOBODY"
	if os.Getenv(mark) != "" || os.Getuid() != 0 {
		return true
	}
	self, err := os.Executable()
	require.NoError(t, err)
	dir, err := os.MkdirTemp("", "axleloft-nobody-")
	require.NoError(t, err)
	t.Cleanup(func() { os.RemoveAll(dir) })
	require.NoError(t, os.Chmod(dir, 0o777)) //nolint:gosec // for a user who owns nothing
	data, err := os.ReadFile(self)
	require.NoError(t, err)
	own := filepath.Join(dir, "own.test")
	require.NoError(t, os.WriteFile(own, data, 0o755)) //nolint:gosec // it is run by another user
	cmd := exec.Command(own, "-test.run=^"+name+"$", "-test.v")
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), mark+"=1", "TMPDIR="+dir, "HOME="+dir)
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s", out)
	assert.Contains(t, string(out), "--- PASS: "+name)
	return false
}

func TestAReadOnlyFolderLosesNothing(t *testing.T) {
	if !asNobody(t, "TestAReadOnlyFolderLosesNothing") {
		return
	}
	quickly(t)
	dir, state := t.TempDir(), t.TempDir()
	file := filepath.Join(dir, "job.axleloft")
	require.NoError(t, job.WriteFile(file, demo(t, "survey-wagon")))
	whole, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, os.Chmod(dir, 0o555))
	t.Cleanup(func() { os.Chmod(dir, 0o755) })
	o := Options{StateDir: state, Autosave: true}
	d, err := Open(file, o)
	require.NoError(t, err)
	assert.Empty(t, d.Elsewhere())
	back := away(t, file)
	second, err := Open(file, o)
	require.NoError(t, err)
	assert.NotEmpty(t, second.Elsewhere(), "told there too")
	second.Close()
	back()

	wait := keptDocument(t, d)
	require.NoError(t, d.Edit("title", "", title("A")))
	wait()
	assert.Equal(t, "Not saved: this user may not use that file or folder. Save it somewhere else. What was on the disk is unchanged.", Words(d.Save()))
	assert.True(t, d.Dirty())
	now, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(whole), string(now))
	assert.Equal(t, []string{"job.axleloft"}, names(t, dir))
	d.Close()
	lost := FindLost(state, nil)
	require.Len(t, lost, 1)
	assert.Equal(t, "A", lost[0].Title)
	again, err := Recover(lost[0], o)
	require.NoError(t, err)
	require.NoError(t, again.SaveAs(filepath.Join(t.TempDir(), "mine.axleloft")))
	again.Close()
	assert.Empty(t, names(t, state))
}
