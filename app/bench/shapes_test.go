package bench

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"axleloft/app/panel"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func plateFile(t *testing.T, dir, name string, z int) string {
	t.Helper()
	full := filepath.Join(dir, name)
	require.NoError(t, os.WriteFile(full, fmt.Appendf(nil, "solid a\nfacet normal 0 0 0 outer loop vertex 0 0 %d vertex 9 0 %d vertex 0 9 %d endloop endfacet\nendsolid a\n", z, z, z), 0o600))
	return full
}

// A shape dropped on a job that is in no file is refused in a sentence; on one that is, it becomes a part whose form opens, its file copied beside the job. What is no shape is told.
func TestShapeDropped(t *testing.T) {
	b := open(t, Options{})
	from, dir := t.TempDir(), t.TempDir()
	plate := plateFile(t, from, "plate.stl", 2000)
	drop := func(files ...string) {
		var list []fyne.URI
		for _, f := range files {
			list = append(list, storage.NewFileURI(f))
		}
		b.onDropped(fyne.Position{}, list)
	}
	before := len(b.doc.Current().Envelopes)
	drop(plate)
	require.Len(t, b.boxes, 1)
	assert.Equal(t, "Save the job first: such a file lies beside the job's own file.", b.boxes[0].words)
	assert.Len(t, b.doc.Current().Envelopes, before)
	b.escape()
	require.NoError(t, b.doc.SaveAs(filepath.Join(dir, "own")))
	drop(plate, filepath.Join(from, "photo.jpg"))
	require.Len(t, b.boxes, 1)
	assert.Equal(t, "Left alone: photo.jpg.", b.boxes[0].words)
	b.escape()
	require.Len(t, b.doc.Current().Envelopes, before+1)
	assert.Equal(t, "plate", b.doc.Current().Envelopes[before].Name)
	assert.FileExists(t, filepath.Join(dir, "plate.stl"))
	assert.Equal(t, panel.WayDrawer, b.open)
	plateFile(t, from, "plate.stl", 2100)
	drop(plate)
	require.Len(t, b.boxes, 1)
	assert.Contains(t, b.boxes[0].words, `yours is called "plate-2.stl" there`)
}

// Saved elsewhere, what became of its files is told before anything else goes on.
func TestSavedTellsOfItsFiles(t *testing.T) {
	b := open(t, Options{})
	from, to := t.TempDir(), t.TempDir()
	require.NoError(t, b.doc.SaveAs(filepath.Join(from, "own")))
	_, _, err := b.doc.AddFile(plateFile(t, t.TempDir(), "plate.stl", 2000))
	require.NoError(t, err)
	plateFile(t, to, "plate.stl", 1000)
	went := false
	b.saved(b.doc.SaveAs(filepath.Join(to, "own")), func() { went = true })
	require.Len(t, b.boxes, 1)
	assert.Contains(t, b.boxes[0].words, `A different "plate.stl" lay there already`)
	assert.False(t, went)
	b.escape()
	assert.True(t, went)
	j, err := job.ReadFile(filepath.Join(to, "own.axleloft"))
	require.NoError(t, err)
	assert.Equal(t, "plate-2.stl", j.Envelopes[len(j.Envelopes)-1].File)
}
