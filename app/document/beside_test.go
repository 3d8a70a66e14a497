package document

import (
	"os"
	"path/filepath"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The files of parts are looked for beside the job's own file: none before it is saved, then there; a trial and the job as undone know it too.
func TestFilesBesideTheJob(t *testing.T) {
	const plate = "solid a\nfacet normal 0 0 0 outer loop vertex 0 0 2000 vertex 9 0 2000 vertex 0 9 2000 endloop endfacet\nendsolid a\n"
	dir, other := t.TempDir(), t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "plate.stl"), []byte(plate), 0o600))
	j := demo(t, "orchard-sprayer")
	j.Envelopes = append(j.Envelopes, job.Envelope{Name: "Plate", Kind: "mesh", File: "plate.stl"})
	d := New(j, false, Options{})
	defer d.Discard()
	require.Len(t, d.Now().Gaps.Unread, 1)
	require.NoError(t, d.SaveAs(filepath.Join(dir, "own")))
	assert.Empty(t, d.Now().Gaps.Unread)
	assert.False(t, d.Dirty())
	require.NoError(t, d.Edit("title", "", func(j *job.Job) error { j.Title = "Another"; return nil }))
	assert.Empty(t, d.Now().Gaps.Unread)
	d.Undo()
	assert.Empty(t, d.Now().Gaps.Unread)
	assert.Empty(t, d.Job().Folder, "nothing of it in the job that is kept")
	require.NoError(t, d.SaveAs(filepath.Join(other, "own")))
	assert.Len(t, d.Now().Gaps.Unread, 1)
	again, err := Open(filepath.Join(dir, "own"+Ending), Options{})
	require.NoError(t, err)
	defer again.Discard()
	assert.Empty(t, again.Now().Gaps.Unread)
}
