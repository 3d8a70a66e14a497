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

func TestSomebodyElseInTheFileIsNews(t *testing.T) {
	file := filepath.Join(t.TempDir(), "job.axleloft")
	j := demo(t, "survey-wagon")
	require.NoError(t, job.WriteFile(file, j))
	d, err := Open(file, Options{})
	require.NoError(t, err)
	defer d.Discard()
	told := 0
	d.Subscribe(func(c Change) {
		if c&FileChanged != 0 {
			told++
		}
	})
	d.LookOutside()
	assert.Empty(t, d.Outside())
	assert.Zero(t, told)

	ours, err := os.ReadFile(file)
	require.NoError(t, err)
	j.Title = "theirs"
	require.NoError(t, job.WriteFile(file, j))
	d.LookOutside()
	d.LookOutside()
	assert.Equal(t, 1, told, "said once")
	assert.Regexp(t, `^“job” was written by somebody else at \d\d:\d\d, while it is open here\. What you see is from before\.$`, d.Outside())
	d.KeepOurs()
	assert.True(t, d.Dirty(), "it is in no file any more")
	assert.Empty(t, d.Outside())
	d.outside.told = false
	require.NoError(t, d.Edit("title", "", title("mine")))
	assert.Contains(t, d.Outside(), "Your own changes are still here")
	d.OutsideTold()
	assert.Empty(t, d.Outside())
	assert.ErrorIs(t, d.Save(), ErrChanged, "told or not, it is not written over")

	require.NoError(t, os.WriteFile(file, ours, 0o600))
	d.LookOutside()
	assert.NoError(t, d.Save(), "put back as it was")
	j.Title = "theirs again"
	require.NoError(t, job.WriteFile(file, j))
	d.LookOutside()
	assert.NotEmpty(t, d.Outside(), "news again")
	require.NoError(t, d.SaveForced())
	assert.Empty(t, d.Outside())
	before, err := job.ReadFile(job.BeforeName(file))
	require.NoError(t, err)
	assert.Equal(t, "theirs again", before.Title)

	require.NoError(t, os.Remove(file))
	d.LookOutside()
	assert.Empty(t, d.Outside())
	assert.NoError(t, d.Save(), "gone: it is written again")
}

// The file is looked at while it is open, without being asked to.
func TestTheFileIsLookedAtMeanwhile(t *testing.T) {
	file := filepath.Join(t.TempDir(), "job.axleloft")
	j := demo(t, "survey-wagon")
	require.NoError(t, job.WriteFile(file, j))
	posts := make(chan func(), 1000)
	d, err := Open(file, Options{Post: func(f func()) { posts <- f }})
	require.NoError(t, err)
	defer d.Discard()
	j.Title = "theirs"
	require.NoError(t, job.WriteFile(file, j))
	for late := time.After(time.Minute); d.Outside() == ""; {
		select {
		case f := <-posts:
			f()
		case <-late:
			require.FailNow(t, "never seen")
		}
	}
}
