package bench

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestAChosenFileIsNotEmptied(t *testing.T) {
	test.NewTempApp(t)
	openLate()
	openLate()
	name := filepath.Join(t.TempDir(), "old.axleloft")
	require.NoError(t, os.WriteFile(name, []byte("old"), 0o600))
	w, err := storage.Writer(storage.NewFileURI(name))
	require.NoError(t, err)
	require.NoError(t, w.Close())
	b, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "old", string(b), "opened and closed by a chooser")

	w, err = storage.Writer(storage.NewFileURI(name))
	require.NoError(t, err)
	_, err = w.Write([]byte("new"))
	require.NoError(t, err)
	require.NoError(t, w.Close())
	b, err = os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "new", string(b))
}
