package document

import (
	"fmt"
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
	assert.Empty(t, d.Now().Gaps.Unread, "it went with the job")
	assert.Empty(t, d.SaveWords())
	again, err := Open(filepath.Join(dir, "own"+Ending), Options{})
	require.NoError(t, err)
	defer again.Discard()
	assert.Empty(t, again.Now().Gaps.Unread)
}

// plateAt is a file of one triangle.
func plateAt(t *testing.T, dir, name string, z int) string {
	t.Helper()
	full := filepath.Join(dir, name)
	require.NoError(t, os.WriteFile(full, fmt.Appendf(nil, "solid a\nfacet normal 0 0 0 outer loop vertex 0 0 %d vertex 9 0 %d vertex 0 9 %d endloop endfacet\nendsolid a\n", z, z, z), 0o600))
	return full
}

func read(t *testing.T, parts ...string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(parts...))
	require.NoError(t, err)
	return string(b)
}

// Saved elsewhere, a job takes its files along: those of trials and the housing too; one that lies there already is left, a different one of that name stays and ours takes another, of which the job, its trials and what is
// undone then say so; a missing one is told.
func TestSavedElsewhereWithItsFiles(t *testing.T) {
	from, to := t.TempDir(), t.TempDir()
	for i, name := range []string{"plate.stl", "case.stl", "trial.stl", "same.stl"} {
		plateAt(t, from, name, 2000+i)
	}
	plateAt(t, to, "same.stl", 2003)
	plateAt(t, to, "plate.stl", 1000)
	plateAt(t, to, "plate-2.stl", 1001)
	mesh := func(file string) job.Envelope { return job.Envelope{Name: file, Kind: "mesh", File: file} }
	j := demo(t, "orchard-sprayer")
	j.Envelopes = append(j.Envelopes, mesh("plate.stl"), mesh("same.stl"), mesh("gone.stl"))
	j.Axle.Housing = append(j.Axle.Housing, job.Envelope{Kind: "mesh", File: "case.stl"})
	j.Trials = []job.Trial{{Name: "Other", Envelopes: []job.Envelope{mesh("trial.stl"), mesh("plate.stl")}}}
	require.NoError(t, job.WriteFile(filepath.Join(from, "own"+Ending), j))
	d, err := Open(filepath.Join(from, "own"+Ending), Options{})
	require.NoError(t, err)
	defer d.Discard()
	require.NoError(t, d.Edit("title", "", title("Another")))
	require.NoError(t, d.SaveAs(filepath.Join(to, "own")))
	assert.Equal(t, `A different "plate.stl" lay there already and stays as it is: yours is called "plate-3.stl" there, and the job says so. "gone.stl" is not beside the job: put it there, and it is drawn.`, d.SaveWords())
	for _, name := range []string{"case.stl", "trial.stl", "same.stl"} {
		assert.Equal(t, read(t, from, name), read(t, to, name))
	}
	assert.Equal(t, read(t, from, "plate.stl"), read(t, to, "plate-3.stl"))
	assert.Contains(t, read(t, to, "plate.stl"), "1000")
	assert.False(t, d.Dirty())
	files := func(j *job.Job) []string { return job.FilesBeside(j) }
	want := []string{"case.stl", "plate-3.stl", "same.stl", "gone.stl", "trial.stl"}
	assert.Equal(t, want, files(d.Job()))
	assert.Len(t, d.Now().Gaps.Unread, 1)
	again, err := job.ReadFile(filepath.Join(to, "own"+Ending))
	require.NoError(t, err)
	assert.Equal(t, want, files(again))
	d.Undo()
	assert.Equal(t, want, files(d.Job()), "undone too")
	assert.Len(t, d.Now().Gaps.Unread, 1)
	d.Redo()
	assert.False(t, d.Dirty())
	left, err := job.ReadFile(filepath.Join(from, "own"+Ending))
	require.NoError(t, err)
	assert.Contains(t, files(left), "plate.stl", "what it was stays as it was")
	// Saved again in the same place nothing is said.
	require.NoError(t, d.Save())
	assert.Empty(t, d.SaveWords())
}

// Where the job cannot be written, no file of it is left.
func TestNothingBroughtWhereTheJobIsNotSaved(t *testing.T) {
	from, to := t.TempDir(), t.TempDir()
	plateAt(t, from, "plate.stl", 2000)
	j := demo(t, "orchard-sprayer")
	j.Envelopes = append(j.Envelopes, job.Envelope{Name: "Plate", Kind: "mesh", File: "plate.stl"})
	require.NoError(t, job.WriteFile(filepath.Join(from, "own"+Ending), j))
	d, err := Open(filepath.Join(from, "own"+Ending), Options{})
	require.NoError(t, err)
	defer d.Discard()
	require.NoError(t, os.Mkdir(filepath.Join(to, "taken"+Ending), 0o700))
	require.Error(t, d.SaveAs(filepath.Join(to, "taken")))
	assert.NoFileExists(t, filepath.Join(to, "plate.stl"))
	assert.Equal(t, filepath.Join(from, "own"+Ending), d.File())
	assert.Empty(t, d.Now().Gaps.Unread)
}

// A file chosen or dropped is copied beside the job, never over another, and refused in a sentence where it is none or the job is in none.
func TestFileTaken(t *testing.T) {
	dir, elsewhere := t.TempDir(), t.TempDir()
	d := New(demo(t, "orchard-sprayer"), true, Options{})
	defer d.Discard()
	file := plateAt(t, elsewhere, "Side plate.STL", 2000)
	_, _, err := d.AddFile(file)
	assert.EqualError(t, err, "Save the job first: such a file lies beside the job's own file.")
	require.NoError(t, d.SaveAs(filepath.Join(dir, "own")))
	p, note, err := d.AddFile(file)
	require.NoError(t, err)
	assert.Empty(t, note)
	assert.Equal(t, "Side plate", d.Current().Envelopes[p.Index].Name)
	assert.Equal(t, read(t, file), read(t, dir, "Side plate.STL"))
	assert.Empty(t, d.Now().Gaps.Unread)
	// From beside the job itself nothing is copied; a different one takes another name.
	_, note, err = d.AddFile(filepath.Join(dir, "Side plate.STL"))
	require.NoError(t, err)
	assert.Empty(t, note)
	file = plateAt(t, elsewhere, "Side plate.STL", 2100)
	note, err = d.SetFile(p, file)
	require.NoError(t, err)
	assert.Equal(t, `A different "Side plate.STL" lies beside the job already and stays as it is: yours is called "Side plate-2.STL" there.`, note)
	assert.Equal(t, "Side plate-2.STL", d.Current().Envelopes[p.Index].File)
	assert.Contains(t, read(t, dir, "Side plate.STL"), "2000")
	names, err := filepath.Glob(filepath.Join(dir, "*.STL"))
	require.NoError(t, err)
	assert.Len(t, names, 2)
	for name, want := range map[string]string{"photo.jpg": "photo.jpg is not an STL file", "bad.stl": "bad.stl is not taken. ", "gone.stl": "gone.stl cannot be opened"} {
		full := filepath.Join(elsewhere, name)
		if name != "gone.stl" {
			require.NoError(t, os.WriteFile(full, []byte("solid nothing"), 0o600))
		}
		_, _, err := d.AddFile(full)
		assert.ErrorContains(t, err, want)
		assert.NoFileExists(t, filepath.Join(dir, name))
	}
}

// What was kept of a job by itself finds the files beside the job again: kept beside it, or elsewhere.
func TestKeptWorkFindsItsFiles(t *testing.T) {
	for _, place := range []string{"beside", "elsewhere"} {
		dir, state := t.TempDir(), t.TempDir()
		plateAt(t, dir, "plate.stl", 2000)
		j := demo(t, "orchard-sprayer")
		j.Envelopes = append(j.Envelopes, job.Envelope{Name: "Plate", Kind: "mesh", File: "plate.stl"})
		file := filepath.Join(dir, "own"+Ending)
		require.NoError(t, job.WriteFile(file, j))
		at := beside(file)
		if place == "elsewhere" {
			at = filepath.Join(state, "job-1"+Ending+autosaveEnding)
		}
		j.Title = "Kept"
		require.NoError(t, job.WriteFile(at, j))
		d, err := Recover(Lost{Autosave: at, File: file}, Options{StateDir: state})
		require.NoError(t, err)
		assert.Equal(t, "Kept", d.Job().Title)
		assert.Empty(t, d.Now().Gaps.Unread, place)
		d.Discard()
	}
}
