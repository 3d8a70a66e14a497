package sight

import (
	"strings"
	"testing"

	"axleloft/app/edit"
	"axleloft/app/view"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// While a choice stands a press in a view takes one of its places, moves no pivot, and every view says what to press.
func TestChoiceTakesOverThePointer(t *testing.T) {
	b := open(t, "orchard-sprayer")
	before := b.doc.Current()
	held := edit.Pivots(before)[0]
	b.doc.Hold(held)
	at, _ := edit.At(before, held)
	picked, left := []int{}, 0
	c := &view.Choice{Words: "Press one of the two answers. Escape leaves.", Lit: -1, Places: []r3.Vec{at, r3.Add(at, r3.Vec{Z: 150})}, Names: []string{"answer 1", "answer 2"},
		From: []r3.Vec{{}}, Labels: []string{"Bolt"}, Leave: func() { left++ }}
	c.Pick = func(i int) { picked = append(picked, i); c.Lit = i }
	b.eye.Choose(c)
	for _, v := range []*View{b.side, b.rear, b.plan} {
		v.draw()
		var said []string
		v.pool.Texts(func(s string, _ fyne.Position, _ fyne.Size) { said = append(said, s) })
		assert.Contains(t, strings.Join(said, " "), "Escape leaves.")
	}
	press := func(v *View, p r3.Vec) {
		x, y := v.transform().Place(p)
		e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
		e.Position = fyne.NewPos(float32(x), float32(y))
		v.MouseDown(e)
		v.MouseUp(e)
	}
	press(b.side, c.Places[1])
	press(b.side, c.Places[0])
	press(b.side, r3.Add(at, r3.Vec{X: 600}))
	assert.Equal(t, []int{1, 0}, picked)
	b.side.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	assert.Equal(t, []int{1, 0, 1}, picked)
	assert.Same(t, before, b.doc.Current(), "nothing moved")
	now, ok := b.doc.Held()
	require.True(t, ok)
	assert.Equal(t, held, now)
	b.side.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	assert.Equal(t, 1, left)
	b.eye.Choose(nil)
	press(b.side, r3.Add(at, r3.Vec{X: 600}))
	assert.Len(t, picked, 3)
}
