package look

import (
	"image/color"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A ground covers its own box, whatever its sides are: as a line, by the toolkit's rule that half a unit is added to the width and the ends are put
// on whole pixels, or as a rectangle.
func TestASlabCoversItsBox(t *testing.T) {
	for _, size := range [][2]float32{{60, 40}, {61, 40}, {60, 41}, {61, 41}, {60, 10}} {
		var s Slab
		s.Paint(container.NewWithoutLayout(), fyne.NewSize(size[0], size[1]), color.Black)
		require.Len(t, s.Objects(), 1)
		switch o := s.Objects()[0].(type) {
		case *canvas.Rectangle:
			assert.Equal(t, fyne.NewSize(size[0], size[1]), o.Size())
			assert.True(t, min(size[0], size[1]) < leastSlab || int(size[0])%2 == 1 && int(size[1])%2 == 1, "%v as a rectangle", size)
		case *canvas.Line:
			a, b, half := o.Position1, o.Position2, (o.StrokeWidth+0.5)/2
			for _, v := range []float32{a.X, a.Y, b.X, b.Y} {
				assert.Equal(t, float32(int(v)), v, "%v: an end lies between pixels", size)
			}
			if a.Y == b.Y {
				assert.Equal(t, [4]float32{0, 0, size[0], size[1]}, [4]float32{a.X, a.Y - half, b.X, b.Y + half}, "%v", size)
			} else {
				assert.Equal(t, [4]float32{0, 0, size[0], size[1]}, [4]float32{a.X - half, a.Y, b.X + half, b.Y}, "%v", size)
			}
		}
	}
}
