package document

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"axleloft/assets"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The photo of what was measured before stripping is copied beside the job; what is no picture is refused and nothing changes.
func TestPhotoOfWhatWasBefore(t *testing.T) {
	home, camera := t.TempDir(), t.TempDir()
	file := filepath.Join(home, "job.axleloft")
	require.NoError(t, os.WriteFile(file, assets.Demo("orchard-sprayer"), 0o644))
	d, err := Open(file, Options{})
	require.NoError(t, err)
	t.Cleanup(d.Discard)

	var picture bytes.Buffer
	require.NoError(t, png.Encode(&picture, image.NewGray(image.Rect(0, 0, 4, 3))))
	taken := filepath.Join(camera, "stood.png")
	require.NoError(t, os.WriteFile(taken, picture.Bytes(), 0o644))
	note, err := d.SetBeforePhoto(taken)
	require.NoError(t, err)
	assert.Empty(t, note)
	require.NotNil(t, d.Current().Before)
	assert.Equal(t, "stood.png", d.Current().Before.Photo)
	assert.FileExists(t, filepath.Join(home, "stood.png"))

	text := filepath.Join(camera, "no.png")
	require.NoError(t, os.WriteFile(text, []byte("no picture"), 0o644))
	_, err = d.SetBeforePhoto(text)
	require.ErrorContains(t, err, "no.png is not taken")
	_, err = d.SetBeforePhoto(filepath.Join(camera, "stood.txt"))
	require.ErrorContains(t, err, "is not a photo")
	assert.Equal(t, "stood.png", d.Current().Before.Photo)
	assert.NoFileExists(t, filepath.Join(home, "no.png"))
}
