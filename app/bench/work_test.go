package bench

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tap answers what is asked.
func tap(t *testing.T, b *Bench, label string) {
	t.Helper()
	require.NotEmpty(t, b.boxes)
	x := b.boxes[len(b.boxes)-1]
	for _, btn := range x.button {
		if btn.Text() == label {
			test.Tap(btn)
			return
		}
	}
	t.Fatalf("no answer %q in %q", label, x.title)
}

// tender is a job in a file, open on the bench, and the same with another title, to be written by somebody else.
func tender(t *testing.T) (b *Bench, file string, theirs *job.Job) {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo("rescue-tender")))
	require.NoError(t, err)
	file = filepath.Join(t.TempDir(), "tender.axleloft")
	require.NoError(t, job.WriteFile(file, j))
	b = open(t, Options{File: file, StateDir: t.TempDir()})
	j.Title = "theirs"
	return b, file, j
}

func TestSomebodyElseWroteTheFile(t *testing.T) {
	b, file, j := tender(t)
	require.NoError(t, job.WriteFile(file, j))
	b.doc.LookOutside()
	b.refresh()
	require.Len(t, b.boxes, 1)
	assert.Equal(t, "Somebody else changed the file", b.boxes[0].title)
	tap(t, b, "Keep what is here")
	b.refresh()
	assert.Empty(t, b.boxes, "asked once")
	assert.NotEqual(t, "theirs", b.doc.Job().Title)
	assert.True(t, b.doc.Dirty(), "what is here is in no file any more")
	b.save(nil)
	tap(t, b, "Write over it")
	assert.False(t, b.doc.Dirty())

	j.Title = "theirs again"
	require.NoError(t, job.WriteFile(file, j))
	b.doc.LookOutside()
	b.refresh()
	tap(t, b, "Load theirs")
	assert.Equal(t, "theirs again", b.doc.Job().Title)
	assert.Equal(t, file, b.doc.File())
	assert.False(t, b.doc.Dirty())
	assert.Empty(t, b.boxes)

	// With changes of one's own nothing goes unasked.
	require.NoError(t, b.doc.Edit("mine", "", func(j *job.Job) error { j.Title = "mine"; return nil }))
	j.Title = "theirs, third"
	require.NoError(t, job.WriteFile(file, j))
	b.doc.LookOutside()
	b.refresh()
	require.Len(t, b.boxes, 1)
	assert.Contains(t, b.boxes[0].words, "Your own changes are still here")
	tap(t, b, "Not now")
	b.save(nil)
	require.Len(t, b.boxes, 1, "saving asks again")
	assert.Contains(t, b.boxes[0].words, "tender.before.axleloft")
	tap(t, b, "Write over it")
	assert.Empty(t, b.boxes)
	before, err := job.ReadFile(job.BeforeName(file))
	require.NoError(t, err)
	assert.Equal(t, "theirs, third", before.Title)

	require.NoError(t, b.doc.Edit("mine", "", func(j *job.Job) error { j.Title = "more of mine"; return nil }))
	require.NoError(t, os.WriteFile(file, []byte("{"), 0o600))
	b.doc.LookOutside()
	b.refresh()
	tap(t, b, loadTheirs)
	require.Len(t, b.boxes, 1)
	assert.Equal(t, "Not opened", b.boxes[0].title)
	assert.Equal(t, "more of mine", b.doc.Job().Title, "theirs cannot be read: mine stays")
	b.escape()
	require.NoError(t, job.WriteFile(file, j))
	b.doc.LookOutside()
	b.refresh()
	tap(t, b, loadTheirs)
	assert.Equal(t, "theirs, third", b.doc.Job().Title)
}

// Every piece of lost work is asked about, one after the other, till one is brought back.
func TestLostWorkIsAskedAboutOneByOne(t *testing.T) {
	dir := t.TempDir()
	for _, id := range []string{"0123456789abcdef", "0123456789abcde0"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, "job-"+id+".axleloft.autosave"), assets.Demo("survey-wagon"), 0o600))
	}
	b := open(t, Options{StateDir: dir})
	require.Len(t, b.boxes, 1)
	tap(t, b, "Throw it away")
	require.Len(t, b.boxes, 1)
	tap(t, b, "Bring it back")
	assert.Empty(t, b.boxes)
	assert.True(t, b.doc.Dirty())
}
