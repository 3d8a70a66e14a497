package document

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// keptDocument is a document whose autosave comes at once and can be waited for.
func keptDocument(t *testing.T, d *Document) (wait func()) {
	t.Helper()
	ch := make(chan struct{}, 100)
	d.keeper.disk.Lock()
	d.keeper.written = func(*job.Job) { ch <- struct{}{} }
	d.keeper.disk.Unlock()
	return func() {
		t.Helper()
		select {
		case <-ch:
		case <-time.After(time.Minute):
			require.FailNow(t, "no autosave")
		}
	}
}

func quickly(t *testing.T) {
	old := autosaveDelay
	autosaveDelay = time.Millisecond
	t.Cleanup(func() { autosaveDelay = old })
}

func TestAutosaveComesAndGoes(t *testing.T) {
	quickly(t)
	dir, state := t.TempDir(), t.TempDir()
	file := filepath.Join(dir, "job.axleloft")
	require.NoError(t, job.WriteFile(file, demo(t, "survey-wagon")))
	o := Options{StateDir: state, Autosave: true}
	d, err := Open(file, o)
	require.NoError(t, err)
	wait := keptDocument(t, d)
	require.NoError(t, d.Edit("title", "", title("A")))
	wait()
	kept, err := job.ReadFile(beside(file))
	require.NoError(t, err)
	assert.Equal(t, "A", kept.Title)
	assert.Empty(t, FindLost(state, []string{file}), "a living program's work is not lost")
	d.Undo()
	require.Eventually(t, func() bool { _, err := os.Stat(beside(file)); return os.IsNotExist(err) }, time.Minute, time.Millisecond, "undone to what is saved")
	d.Redo()
	wait()
	require.NoError(t, d.Save())
	assert.NoFileExists(t, beside(file))
	require.NoError(t, d.Edit("title", "", title("B")))
	d.Close()
	lost := FindLost(state, []string{file})
	require.Len(t, lost, 1, "closed with changes: they stay")
	assert.Equal(t, "B", lost[0].Title)
	assert.Contains(t, lost[0].Words(), "“job”, last kept")

	again, err := Recover(lost[0], o)
	require.NoError(t, err)
	assert.Equal(t, "B", again.Job().Title)
	assert.True(t, again.Dirty())
	again.Discard()
	assert.NoFileExists(t, beside(file))
	assert.Empty(t, FindLost(state, []string{file}))
	left, err := os.ReadDir(state)
	require.NoError(t, err)
	assert.Empty(t, left, "nothing lies about")
}

// The file was written after the work was last kept, by a save somewhere else or by somebody else: the work is offered and that is said.
func TestAFileWrittenSinceIsNotWrittenOverByRecovering(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "job.axleloft")
	j := demo(t, "survey-wagon")
	j.Title = "mine"
	require.NoError(t, job.WriteFile(beside(file), j))
	long := time.Now().Add(-time.Hour)
	require.NoError(t, os.Chtimes(beside(file), long, long))
	j.Title = "newer"
	require.NoError(t, job.WriteFile(file, j))
	lost := FindLost("", []string{file})
	require.Len(t, lost, 1)
	assert.Contains(t, lost[0].Words(), "its file was written after that")
	d, err := Recover(lost[0], Options{Autosave: true})
	require.NoError(t, err)
	assert.Equal(t, "mine", d.Job().Title)
	assert.ErrorIs(t, d.Save(), ErrChanged)
	now, err := job.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, "newer", now.Title)
	require.NoError(t, d.SaveForced())
	before, err := job.ReadFile(job.BeforeName(file))
	require.NoError(t, err)
	assert.Equal(t, "newer", before.Title, "what was written over is kept")
	d.Close()

	require.NoError(t, job.WriteFile(beside(file), j))
	require.NoError(t, os.Remove(file))
	assert.Len(t, FindLost("", []string{file}), 1, "its job is gone, the autosave is all there is")
	require.NoError(t, os.WriteFile(beside(file), []byte("{"), 0o600))
	assert.Empty(t, FindLost("", []string{file}), "spoiled: nothing to offer")
	assert.FileExists(t, beside(file), "and nothing thrown away")
}

func TestLostWorkNobodyLookedAtIsNotWrittenOver(t *testing.T) {
	quickly(t)
	for _, state := range []string{t.TempDir(), ""} {
		file := filepath.Join(t.TempDir(), "job.axleloft")
		j := demo(t, "survey-wagon")
		require.NoError(t, job.WriteFile(file, j))
		j.Title = "lost"
		require.NoError(t, job.WriteFile(beside(file), j))
		d, err := Open(file, Options{StateDir: state, Autosave: true})
		require.NoError(t, err)
		wait := keptDocument(t, d)
		require.NoError(t, d.Edit("title", "", title("A")))
		wait()
		d.Close()
		old := beside(file)
		if state == "" {
			old += ".old"
		}
		kept, err := job.ReadFile(old)
		require.NoError(t, err)
		assert.Equal(t, "lost", kept.Title)
		if state != "" {
			assert.Len(t, FindLost(state, []string{file}), 2)
		}
	}
}

func TestAutosaveGoesElsewhereWhereTheFolderCannotBeWritten(t *testing.T) {
	quickly(t)
	dir, state := t.TempDir(), filepath.Join(t.TempDir(), "new")
	file := filepath.Join(dir, "gone", "job.axleloft")
	require.NoError(t, os.Mkdir(filepath.Dir(file), 0o700))
	require.NoError(t, job.WriteFile(file, demo(t, "survey-wagon")))
	d, err := Open(file, Options{StateDir: state, Autosave: true})
	require.NoError(t, err)
	wait := keptDocument(t, d)
	require.NoError(t, os.RemoveAll(filepath.Dir(file))) // a stick pulled out
	require.NoError(t, d.Edit("title", "", title("A")))
	wait()
	assert.Contains(t, Words(d.Save()), "Not saved")
	d.Close()
	lost := FindLost(state, nil)
	require.Len(t, lost, 1)
	assert.Equal(t, file, lost[0].File)
	assert.Equal(t, "A", lost[0].Title)
	require.NoError(t, Forget(lost[0]))
	assert.Empty(t, FindLost(state, nil))
}

func TestTroubleWithTheAutosaveIsSaid(t *testing.T) {
	quickly(t)
	dir := t.TempDir()
	posts := make(chan func(), 100)
	blocked := filepath.Join(dir, "file")
	require.NoError(t, os.WriteFile(blocked, nil, 0o600))
	d := New(demo(t, "survey-wagon"), false, Options{StateDir: filepath.Join(blocked, "state"), Autosave: true, Post: func(f func()) { posts <- f }})
	defer d.Discard()
	require.NoError(t, d.Edit("title", "", title("A")))
	for d.AutosaveTrouble() == "" {
		select {
		case f := <-posts:
			f()
		case <-time.After(time.Minute):
			require.FailNow(t, "nothing said")
		}
	}
	assert.Contains(t, d.AutosaveTrouble(), "Not kept")
	assert.Equal(t, "A", d.Job().Title)
}

// Results come through Post, one delivery at a time, and the newest geometry wins.
func TestResultsComeThroughPost(t *testing.T) {
	posts := make(chan func(), 100)
	d := New(demo(t, "orchard-sprayer"), false, Options{Post: func(f func()) { posts <- f }})
	defer d.Discard()
	p := rodEnd(t, d, FrameEnd)
	d.BeginDrag("x")
	for i := range 20 {
		at := job.Point{-230, -430, 545 - float64(i)}.Vec()
		require.NoError(t, d.DragPivot(p, at))
	}
	d.Commit()
	for !d.Freshness().Full {
		select {
		case f := <-posts:
			f()
		case <-time.After(time.Minute):
			require.FailNow(t, "no figures")
		}
	}
	s, current := d.Study()
	assert.True(t, current)
	assert.Equal(t, 526.0, s.Job.Links[p.Index].Frame[2])
}

// A job just begun is kept aside before anything is changed in it.
func TestANewJobIsKeptFromTheStart(t *testing.T) {
	quickly(t)
	o := Options{StateDir: t.TempDir(), Autosave: true}
	d := New(demo(t, "orchard-sprayer"), false, o)
	require.Eventually(t, func() bool {
		left, _ := filepath.Glob(filepath.Join(o.StateDir, "job-*.autosave"))
		return len(left) == 1
	}, time.Minute, time.Millisecond)
	d.Close()
	assert.Len(t, FindLost(o.StateDir, nil), 1)
}

func TestARecoveredDemoIsStillADemo(t *testing.T) {
	quickly(t)
	o := Options{StateDir: t.TempDir(), Autosave: true}
	d := New(demo(t, "orchard-sprayer"), true, o)
	wait := keptDocument(t, d)
	require.NoError(t, d.Edit("title", "", title("changed")))
	wait()
	d.Close()
	lost := FindLost(o.StateDir, nil)
	require.Len(t, lost, 1)
	again, err := Recover(lost[0], o)
	require.NoError(t, err)
	assert.True(t, again.IsDemo())
	file := filepath.Join(t.TempDir(), "mine.axleloft")
	require.NoError(t, again.SaveAs(file))
	assert.False(t, again.IsDemo(), "saved: one's own")
	require.NoError(t, again.Edit("title", "", title("more")))
	again.Close()
	lost = FindLost(o.StateDir, []string{file})
	require.Len(t, lost, 1)
	again, err = Recover(lost[0], o)
	require.NoError(t, err)
	assert.False(t, again.IsDemo())
	again.Discard()
}
