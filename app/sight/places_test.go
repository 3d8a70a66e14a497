package sight

import (
	"testing"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/app/view"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// sitting holds a pivot and shades round it: free but for one square that hits, 80 mm above it.
func sitting(b *bench) (*study.Places, r3.Vec) {
	p, at := b.pivot("Panhard rod, axle end")
	b.doc.Settle()
	b.doc.Hold(p)
	s, _ := b.doc.Study()
	q := &study.Places{Pivot: p, Study: s, At: at}
	for i, axes := range [3][2]edit.Axis{{edit.X, edit.Z}, {edit.Y, edit.Z}, {edit.X, edit.Y}} {
		m := study.PlaceMap{U: axes[0], V: axes[1], At: at}
		mid := [3]float64{at.X, at.Y, at.Z}
		for u := -5; u <= 5; u++ {
			for v := -5; v <= 5; v++ {
				c := study.PlaceCell{U: mid[axes[0]] + 40*float64(u), V: mid[axes[1]] + 40*float64(v), Size: 40}
				if u == 0 && v == 2 {
					c.Place = study.Place{State: study.PlaceHits, A: "Panhard rod", B: "Tank shelf", Gap: -12}
				}
				m.Cells = append(m.Cells, c)
			}
		}
		q.Maps[i] = m
	}
	b.eye.SetPlaces(q)
	return q, at
}

func shaded(v *View) bool {
	v.draw()
	for _, o := range test.WidgetRenderer(v).Objects() {
		if o == fyne.CanvasObject(v.patch.raster) && v.patch.raster != nil {
			return true
		}
	}
	return false
}

func TestWhereTheHeldPivotCouldSitIsShaded(t *testing.T) {
	b := open(t, "orchard-sprayer")
	views := []*View{b.side, b.rear, b.plan}
	q, at := sitting(b)
	for _, v := range views {
		assert.True(t, shaded(v), v.plane)
	}
	// The pointer tells what would come of it there.
	up := b.side.place(r3.Add(at, r3.Vec{Z: 80}))
	b.side.MouseIn(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: up}})
	assert.Equal(t, "hits: Panhard rod / tank shelf, 12 mm in, at ride height", b.side.placeNote())
	b.side.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: b.side.place(r3.Add(at, r3.Vec{X: 80}))}})
	assert.Equal(t, "free", b.side.placeNote())
	b.side.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: b.side.place(r3.Add(at, r3.Vec{X: 900}))}})
	assert.Empty(t, b.side.placeNote())
	b.side.MouseOut()

	// Moved within the side view's plane it stays shaded there, and nowhere else.
	require.NoError(t, b.doc.NudgePivot(q.Pivot, r3.Vec{X: 5, Z: -10}))
	assert.True(t, shaded(b.side))
	assert.False(t, shaded(b.rear))
	assert.False(t, shaded(b.plan))
	b.doc.Undo()
	assert.True(t, shaded(b.rear))

	// Another pivot, or none, has no such map.
	other, _ := b.pivot("Panhard rod, frame end")
	b.doc.Hold(other)
	for _, v := range views {
		assert.False(t, shaded(v))
	}
	b.doc.Hold(q.Pivot)
	assert.True(t, shaded(b.plan))
	b.eye.SetPlaces(nil)
	for _, v := range views {
		assert.False(t, shaded(v))
	}
}

// While a hand moves things the map is not painted again.
func TestTheMapIsPaintedOnce(t *testing.T) {
	b := open(t, "orchard-sprayer")
	q, at := sitting(b)
	require.True(t, shaded(b.side))
	b.side.paintPlaces(100, 100)
	img := b.side.patch.img
	require.NotNil(t, img)
	b.doc.BeginDrag("move")
	for i := range 5 {
		require.NoError(t, b.doc.DragPivot(q.Pivot, r3.Add(at, r3.Vec{X: float64(i)})))
		require.True(t, shaded(b.side))
		b.side.paintPlaces(100, 100)
		assert.Same(t, img, b.side.patch.img)
	}
	b.doc.Cancel()
	b.eye.zoom(b.side, 100, 100, 2)
	require.True(t, shaded(b.side))
	b.side.paintPlaces(100, 100)
	assert.NotSame(t, img, b.side.patch.img)
	assert.Equal(t, view.Side, b.side.plane)
}
