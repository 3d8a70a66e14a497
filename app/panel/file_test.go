package panel

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"axleloft/app/edit"
	"axleloft/app/look"

	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The form of a part whose shape is in a file has a button that chooses one; what is chosen lies beside the job afterwards, and what is refused is told over the form.
func TestFileIsChosen(t *testing.T) {
	n := open(t, "orchard-sprayer")
	dir, from := t.TempDir(), t.TempDir()
	plate := filepath.Join(from, "plate.stl")
	require.NoError(t, os.WriteFile(plate, fmt.Appendf(nil, "solid a\nfacet normal 0 0 0 outer loop vertex 0 0 2000 vertex 9 0 2000 vertex 0 9 2000 endloop endfacet\nendsolid a\n"), 0o600))
	choose := ""
	n.h.ChooseFile = func(f func(string), endings ...string) {
		assert.Equal(t, []string{".stl"}, endings)
		f(choose)
	}
	f := newForm(n.h)
	require.NoError(t, n.d.SaveAs(filepath.Join(dir, "own")))
	choose = plate
	p, _, err := n.d.AddFile(plate)
	require.NoError(t, err)
	f.show(p, n.d.Current())
	b, ok := f.named("Choose...").(*look.Button)
	require.True(t, ok)
	other := filepath.Join(from, "other.stl")
	require.NoError(t, os.WriteFile(other, []byte("solid a\nfacet normal 0 0 0 outer loop vertex 0 0 1 vertex 9 0 1 vertex 0 9 1 endloop endfacet\nendsolid a\n"), 0o600))
	choose = other
	test.Tap(b)
	assert.Equal(t, "other.stl", n.d.Current().Envelopes[p.Index].File)
	assert.FileExists(t, filepath.Join(dir, "other.stl"))
	assert.False(t, f.plate.Visible())
	choose = filepath.Join(from, "none.txt")
	test.Tap(b)
	assert.True(t, f.plate.Visible())
	assert.Contains(t, f.refused.Text(), "is not an STL file")
	f.show(edit.Part{List: edit.Envelopes}, n.d.Current())
	assert.Nil(t, f.named("Choose..."), "a box has none")
}
