package panel

import (
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
)

// Every drawer is reached from the foot once, by a button or by the menu of More, however narrow the window; those of the findings have their words there.
func TestEveryDrawerIsReachedFromTheFoot(t *testing.T) {
	w := openWorked(t, "orchard-sprayer")
	f := NewFoot(w.h)
	edge := float32(0)
	f.RightEdge = func() float32 { return edge }
	for _, width := range []float32{1900, 1364, 1093, 960} {
		edge = width - 410
		f.Resize(fyne.NewSize(width, 32))
		seen := map[string]int{}
		end := float32(0)
		for _, b := range f.Drawers {
			if b.Visible() {
				seen[b.Text()]++
				end = b.Position().X + b.Size().Width
			}
		}
		assert.True(t, f.More.Visible())
		assert.GreaterOrEqual(t, f.More.Position().X, end, "at %v", width)
		assert.LessOrEqual(t, f.More.Position().X+f.More.Size().Width, f.Fit.Position().X, "at %v", width)
		for _, i := range f.more().Items {
			seen[i.Label]++
		}
		for d := NoDrawer + 1; d <= LastDrawer; d++ {
			want := 1
			if d == FindingsDrawer || d == LeftOutDrawer {
				want = 0
			}
			assert.Equal(t, want, seen[d.String()], "%v at %v", d, width)
		}
	}
}
