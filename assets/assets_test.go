package assets

import (
	"bytes"
	"image/png"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestIcon(t *testing.T) {
	m, err := png.Decode(bytes.NewReader(Icon()))
	require.NoError(t, err)
	assert.Equal(t, 512, m.Bounds().Dx())
	assert.Equal(t, 512, m.Bounds().Dy())
	_, _, _, corner := m.At(0, 0).RGBA()
	_, _, _, middle := m.At(256, 256).RGBA()
	assert.Zero(t, corner, "the corners are clear")
	assert.Equal(t, uint32(0xffff), middle)
}

func TestDemos(t *testing.T) {
	names := Demos()
	require.NotEmpty(t, names)
	assert.Equal(t, "orchard-sprayer", names[0], "the window opens with it")
	for _, name := range names {
		assert.NotEmpty(t, Demo(name), name)
	}
	assert.Nil(t, Demo("none such"))
}
