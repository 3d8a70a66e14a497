package sight

import (
	"bytes"
	"image/color"
	"math"
	"strings"
	"testing"
	"time"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/view"
	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// bench is three views of a demo in a window, at the sizes of the bench.
type bench struct {
	*testing.T
	doc              *document.Document
	eye              *Eye
	side, rear, plan *View
}

type fixed struct{}

func (fixed) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(948, 548) }
func (fixed) Layout(o []fyne.CanvasObject, _ fyne.Size) {
	for i, b := range [][4]float32{{0, 0, 624, 224}, {632, 0, 316, 224}, {0, 232, 624, 316}} {
		o[i].Move(fyne.NewPos(b[0], b[1]))
		o[i].Resize(fyne.NewSize(b[2], b[3]))
	}
}

func open(t *testing.T, demo string) *bench {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo(demo)))
	require.NoError(t, err)
	for i := range j.Links { // whatever the demo marks as measured, here everything can move
		j.Links[i].Measured = nil
	}
	d := document.New(j, true, document.Options{StateDir: t.TempDir()})
	t.Cleanup(d.Close)
	test.NewTempApp(t)
	b := &bench{T: t, doc: d, eye: NewEye(d)}
	b.side, b.rear, b.plan = New(d, b.eye, view.Side), New(d, b.eye, view.Rear), New(d, b.eye, view.Plan)
	w := test.NewTempWindow(t, fyne.NewContainerWithLayout(fixed{}, b.side, b.rear, b.plan))
	w.SetPadded(false)
	w.Resize(fyne.NewSize(948, 548))
	for _, v := range b.eye.views {
		t.Cleanup(v.Close)
	}
	return b
}

func (b *bench) where(v *View, name string) fyne.Position {
	b.Helper()
	at, ok := v.Where(name)
	require.True(b, ok, "%s is not in the view", name)
	return at
}

func (b *bench) pivot(name string) (p document.Pivot, at r3.Vec) {
	b.Helper()
	j := b.doc.Current()
	for _, p := range edit.Pivots(j) {
		if edit.Name(j, p) == name {
			at, _ := edit.At(j, p)
			return p, at
		}
	}
	b.Fatalf("no pivot %s", name)
	return
}

func press(v *View, at fyne.Position, button desktop.MouseButton) {
	v.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: button})
}

func release(v *View, at fyne.Position, button desktop.MouseButton) {
	v.MouseUp(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: button})
}

// dragPath presses, moves in steps as the driver does, and lets go.
func dragPath(v *View, from, to fyne.Position, button desktop.MouseButton) {
	press(v, from, button)
	dragOn(v, from, to)
	release(v, to, button)
	v.DragEnd()
}

func dragOn(v *View, from, to fyne.Position) {
	const n = 10
	last := from
	for i := 1; i <= n; i++ {
		at := fyne.NewPos(from.X+(to.X-from.X)*float32(i)/n, from.Y+(to.Y-from.Y)*float32(i)/n)
		v.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: at}, Dragged: fyne.NewDelta(at.X-last.X, at.Y-last.Y)})
		last = at
	}
}

func move(v *View, to fyne.Position) {
	v.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: to}})
}

const rodFrame = "Panhard rod, frame end"

func TestDragMovesThePivotInTheViewsAxesAsOneStep(t *testing.T) {
	for _, tc := range []struct {
		plane  view.Plane
		moves  [3]float64 // signs of X, Y, Z for a drag to the right and up
		across int
	}{{view.Side, [3]float64{1, 0, 1}, 0}, {view.Rear, [3]float64{0, -1, 1}, 1}, {view.Plan, [3]float64{1, 1, 0}, 0}} {
		b := open(t, "orchard-sprayer")
		v := b.eye.views[tc.plane]
		p, before := b.pivot(rodFrame)
		from := b.where(v, rodFrame)
		dragPath(v, from, from.AddXY(10, -10), desktop.MouseButtonPrimary)
		after, _ := edit.At(b.doc.Current(), p)
		step := b.eye.Step()
		d := r3.Sub(after, before)
		for i, got := range []float64{d.X, d.Y, d.Z} {
			want := tc.moves[i] * 10 / b.eye.Scale()
			assert.InDelta(t, want, got, step/2+1e-9, "plane %d axis %d", tc.plane, i)
			if tc.moves[i] == 0 {
				assert.Zero(t, got)
			}
		}
		label, ok := b.doc.Undo()
		require.True(t, ok)
		assert.Contains(t, label, "Panhard rod")
		back, _ := edit.At(b.doc.Current(), p)
		assert.Equal(t, before, back)
		_, more := b.doc.CanUndo()
		assert.False(t, more, "one gesture is one step")
	}
}

func TestDraggedPlacesAreWholeSteps(t *testing.T) {
	b := open(t, "orchard-sprayer")
	p, _ := b.pivot(rodFrame)
	from := b.where(b.plan, rodFrame)
	dragPath(b.plan, from, from.AddXY(17, 13), desktop.MouseButtonPrimary)
	at, _ := edit.At(b.doc.Current(), p)
	step := b.eye.Step()
	assert.InDelta(t, 0, math.Remainder(at.X, step), 1e-9)
	assert.InDelta(t, 0, math.Remainder(at.Y, step), 1e-9)
}

func TestTwinsMoveTogether(t *testing.T) {
	b := open(t, "orchard-sprayer")
	left, right := b.where(b.plan, "Lower left, frame end"), b.where(b.plan, "Lower right, frame end")
	dragPath(b.plan, right, right.AddXY(0, 12), desktop.MouseButtonPrimary)
	assert.InDelta(t, left.Y-12, b.where(b.plan, "Lower left, frame end").Y, 1.1)
	assert.InDelta(t, right.Y+12, b.where(b.plan, "Lower right, frame end").Y, 1.1)
}

func TestEscapeRestoresADrag(t *testing.T) {
	b := open(t, "orchard-sprayer")
	p, before := b.pivot(rodFrame)
	from := b.where(b.plan, rodFrame)
	press(b.plan, from, desktop.MouseButtonPrimary)
	dragOn(b.plan, from, from.AddXY(30, 5))
	during, _ := edit.At(b.doc.Current(), p)
	require.NotEqual(t, before, during)
	b.plan.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	after, _ := edit.At(b.doc.Current(), p)
	assert.Equal(t, before, after)
	dragOn(b.plan, from.AddXY(30, 5), from.AddXY(40, 5)) // the button is still down
	release(b.plan, from.AddXY(40, 5), desktop.MouseButtonPrimary)
	b.plan.DragEnd()
	after, _ = edit.At(b.doc.Current(), p)
	assert.Equal(t, before, after)
	_, undo := b.doc.CanUndo()
	assert.False(t, undo)
}

func TestPressMovePress(t *testing.T) {
	b := open(t, "orchard-sprayer")
	p, before := b.pivot(rodFrame)
	from := b.where(b.plan, rodFrame)
	press(b.plan, from, desktop.MouseButtonPrimary)
	release(b.plan, from, desktop.MouseButtonPrimary)
	held, ok := b.doc.Held()
	require.True(t, ok)
	assert.Equal(t, p, held)
	move(b.plan, from.AddXY(2, 1)) // a shaking hand moves nothing
	at, _ := edit.At(b.doc.Current(), p)
	assert.Equal(t, before, at)
	move(b.plan, from.AddXY(12, 0))
	move(b.plan, from.AddXY(24, 0))
	press(b.plan, from.AddXY(24, 0), desktop.MouseButtonPrimary)
	release(b.plan, from.AddXY(24, 0), desktop.MouseButtonPrimary)
	at, _ = edit.At(b.doc.Current(), p)
	assert.InDelta(t, before.X+24/b.eye.Scale(), at.X, b.eye.Step())
	assert.False(t, b.doc.Dragging())
	move(b.plan, from.AddXY(60, 0)) // it has been put down
	now, _ := edit.At(b.doc.Current(), p)
	assert.Equal(t, at, now)
}

func TestACarriedPivotThatLeavesTheViewGoesBack(t *testing.T) {
	b := open(t, "orchard-sprayer")
	p, before := b.pivot(rodFrame)
	from := b.where(b.plan, rodFrame)
	press(b.plan, from, desktop.MouseButtonPrimary)
	release(b.plan, from, desktop.MouseButtonPrimary)
	move(b.plan, from.AddXY(40, 0))
	b.plan.MouseOut()
	at, _ := edit.At(b.doc.Current(), p)
	assert.Equal(t, before, at)
	assert.False(t, b.doc.Dragging())
	_, held := b.doc.Held()
	assert.True(t, held, "it stays in hand for the card")
}

func TestMeasuredDoesNotMove(t *testing.T) {
	b := open(t, "orchard-sprayer")
	p, before := b.pivot(rodFrame)
	require.NoError(t, b.doc.SetMeasured(p, true))
	from := b.where(b.plan, rodFrame)
	dragPath(b.plan, from, from.AddXY(30, 0), desktop.MouseButtonPrimary)
	at, _ := edit.At(b.doc.Current(), p)
	assert.Equal(t, before, at)
	assert.Equal(t, "measured: press Free to move it", b.plan.note)
	b.plan.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	at, _ = edit.At(b.doc.Current(), p)
	assert.Equal(t, before, at)
}

func TestArrowsNudgeInTheViewsAxes(t *testing.T) {
	for _, tc := range []struct {
		plane view.Plane
		key   fyne.KeyName
		mods  fyne.KeyModifier
		want  r3.Vec
	}{
		{view.Side, fyne.KeyRight, 0, r3.Vec{X: 1}},
		{view.Side, fyne.KeyUp, fyne.KeyModifierShift, r3.Vec{Z: 10}},
		{view.Rear, fyne.KeyRight, 0, r3.Vec{Y: -1}},
		{view.Plan, fyne.KeyUp, 0, r3.Vec{Y: 1}},
		{view.Plan, fyne.KeyLeft, fyne.KeyModifierControl, r3.Vec{X: -0.1}},
	} {
		b := open(t, "orchard-sprayer")
		v := b.eye.views[tc.plane]
		p, before := b.pivot(rodFrame)
		b.doc.Hold(p)
		v.modifiers = func() fyne.KeyModifier { return tc.mods }
		if tc.mods == fyne.KeyModifierControl {
			v.TypedShortcut(&desktop.CustomShortcut{KeyName: tc.key, Modifier: tc.mods})
		} else {
			v.TypedKey(&fyne.KeyEvent{Name: tc.key})
		}
		after, _ := edit.At(b.doc.Current(), p)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(r3.Sub(after, before), tc.want)), 1e-9, "%v", tc)
	}
}

func TestAxlePivotIsTakenWhereItStandsAndAtItsRidePlace(t *testing.T) {
	b := open(t, "orchard-sprayer")
	b.doc.MoveAxle(60, 60)
	const name = "Panhard rod, axle end"
	p, before := b.pivot(name)
	now, ride := b.where(b.rear, name), b.where(b.rear, "ride place of "+name)
	require.Greater(t, ride.Y-now.Y, float32(8))
	for _, from := range []fyne.Position{now, ride} {
		dragPath(b.rear, from, from.AddXY(0, 10), desktop.MouseButtonPrimary)
		after, _ := edit.At(b.doc.Current(), p)
		assert.InDelta(t, before.Z-10/b.eye.Scale(), after.Z, b.eye.Step(), "from %v", from)
		b.doc.Undo()
	}
}

func TestTyreMovesItsWheelOnly(t *testing.T) {
	b := open(t, "orchard-sprayer")
	b.doc.Settle()
	from := b.where(b.rear, "Tyre left")
	dragPath(b.rear, from, from.AddXY(0, -8), desktop.MouseButtonPrimary)
	pose := b.doc.Position().Pose
	assert.InDelta(t, 8/b.eye.Scale(), pose.Left, 1e-6)
	assert.InDelta(t, 0, pose.Right, 1e-6)
	dragPath(b.rear, from, from.AddXY(0, -2000), desktop.MouseButtonPrimary)
	pose = b.doc.Position().Pose
	assert.Less(t, pose.Left, 300.0, "held by the range")
	assert.InDelta(t, 0, pose.Right, 1e-6)
}

func TestZoomKeepsThePointUnderTheCursorAndTheViewsShareIt(t *testing.T) {
	b := open(t, "orchard-sprayer")
	at := b.where(b.plan, rodFrame)
	scale := b.eye.Scale()
	b.plan.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: at}, Scrolled: fyne.NewDelta(0, 50)})
	assert.InDelta(t, scale*perNotch*perNotch, b.eye.Scale(), 1e-9)
	after := b.where(b.plan, rodFrame)
	assert.InDelta(t, at.X, after.X, 1e-3)
	assert.InDelta(t, at.Y, after.Y, 1e-3)
	side := b.where(b.side, rodFrame)
	assert.InDelta(t, after.X, side.X, 1e-3, "side and plan share the fore-and-aft place")
	b.eye.Home()
	assert.InDelta(t, scale, b.eye.Scale(), 1e-12)
	assert.Equal(t, FitLinks, b.eye.Framing())
}

func TestPanByEmptyGroundAndByTheMiddleButton(t *testing.T) {
	for _, button := range []desktop.MouseButton{desktop.MouseButtonPrimary, desktop.MouseButtonTertiary} {
		b := open(t, "orchard-sprayer")
		before := b.where(b.side, rodFrame)
		from := fyne.NewPos(560, 190)
		if button == desktop.MouseButtonTertiary {
			from = before // even over a pivot
		}
		dragPath(b.side, from, from.AddXY(-30, 12), button)
		after := b.where(b.side, rodFrame)
		assert.InDelta(t, before.X-30, after.X, 1e-2)
		assert.InDelta(t, before.Y+12, after.Y, 1e-2)
		_, undo := b.doc.CanUndo()
		assert.False(t, undo)
	}
}

func TestPressOnAPartSelectsIt(t *testing.T) {
	b := open(t, "orchard-sprayer")
	var got edit.Part
	called := 0
	b.side.OnPart = func(p edit.Part) { got = p; called++ }
	// the middle of the upper edge of the rail ahead of the kick-up
	at := b.side.place(r3.Vec{X: 1500, Y: 440, Z: 775})
	press(b.side, at, desktop.MouseButtonPrimary)
	release(b.side, at, desktop.MouseButtonPrimary)
	require.Equal(t, 1, called)
	assert.Equal(t, "Rail ahead", edit.PartName(b.doc.Current(), got))
	sel, ok := b.doc.Selected()
	assert.True(t, ok)
	assert.Equal(t, got, sel)
	nowhere := fyne.NewPos(600, 200)
	press(b.side, nowhere, desktop.MouseButtonPrimary)
	release(b.side, nowhere, desktop.MouseButtonPrimary)
	_, ok = b.doc.Selected()
	assert.False(t, ok)
}

func TestASelectedPartThatCanMoveIsDragged(t *testing.T) {
	b := open(t, "orchard-sprayer")
	shelf := edit.Part{List: edit.Envelopes, Index: -1}
	for i := range b.doc.Current().Envelopes {
		if b.doc.Current().Envelopes[i].Name == "Tank shelf" {
			shelf.Index = i
		}
	}
	require.NoError(t, b.doc.SetPartMeasured(shelf, false))
	least := func() float64 { return b.doc.Current().Envelopes[shelf.Index].Min[2] }
	before := least()
	edge := b.side.place(r3.Vec{X: -390, Z: 600}) // on its lower edge
	dragPath(b.side, edge, edge.AddXY(0, -12), desktop.MouseButtonPrimary)
	assert.Equal(t, before, least(), "not selected: the drag pans")
	b.eye.Fit()
	press(b.side, edge, desktop.MouseButtonPrimary)
	release(b.side, edge, desktop.MouseButtonPrimary)
	sel, ok := b.doc.Selected()
	require.True(t, ok)
	require.Equal(t, shelf, sel)
	dragPath(b.side, edge, edge.AddXY(0, -12), desktop.MouseButtonPrimary)
	assert.InDelta(t, before+12/b.eye.Scale(), least(), b.eye.Step())
	b.doc.Undo()
	assert.Equal(t, before, least())
	b.side.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	assert.InDelta(t, before+1, least(), 1e-9)
	b.doc.Undo()
	require.NoError(t, b.doc.SetPartMeasured(shelf, true))
	dragPath(b.side, edge, edge.AddXY(0, -12), desktop.MouseButtonPrimary)
	assert.Equal(t, before, least())
	assert.Equal(t, "measured: press Free to move it", b.side.note)
}

func TestNextOfPivotsThatLieClose(t *testing.T) {
	b := open(t, "orchard-sprayer")
	at := b.where(b.side, rodFrame) // seen from the side the rod's other end lies 10 units away
	press(b.side, at, desktop.MouseButtonPrimary)
	release(b.side, at, desktop.MouseButtonPrimary)
	first, _ := b.doc.Held()
	_, n := b.eye.Near()
	if n < 2 {
		t.Fatalf("%d pivots near, want several", n)
	}
	b.side.hand.grip = nothing
	assert.True(t, b.side.AcceptsTab())
	seen := map[document.Pivot]bool{first: true}
	for range n - 1 {
		b.side.TypedKey(&fyne.KeyEvent{Name: fyne.KeyTab})
		p, _ := b.doc.Held()
		assert.False(t, seen[p], "each once")
		seen[p] = true
	}
	b.side.TypedKey(&fyne.KeyEvent{Name: fyne.KeyTab})
	p, _ := b.doc.Held()
	assert.Equal(t, first, p)
}

func TestFitAndScaleText(t *testing.T) {
	b := open(t, "orchard-sprayer")
	// the links are 1184 mm wide; with 150 each side they fill the rear view's 316 units
	assert.InDelta(t, 316.0/(1184+300), b.eye.Scale(), 1e-9)
	assert.Equal(t, "1 px is 4.7 mm, drag steps 5 mm", b.eye.ScaleText())
	b.doc.SetUnit("in")
	assert.Equal(t, "1 px is 0.18 in, drag steps 1/4 in", b.eye.ScaleText())
	b.eye.GoTo(r3.Vec{X: 100, Z: 500})
	assert.Equal(t, 1.0, b.eye.Scale())
	assert.Equal(t, Free, b.eye.Framing())
	b.eye.FitAll()
	assert.Less(t, b.eye.Scale(), 316.0/(1184+300))
}

func TestGoToGapDrawsTheGap(t *testing.T) {
	b := open(t, "orchard-sprayer")
	now := b.doc.Now()
	require.NotNil(t, now.Gaps)
	pair := -1
	for i, p := range now.Gaps.Pairs {
		names := now.Gaps.Parts[p.A].Name + now.Gaps.Parts[p.B].Name
		if strings.Contains(names, "Panhard rod") && strings.Contains(names, "Tank shelf") {
			pair = i
		}
	}
	require.GreaterOrEqual(t, pair, 0)
	require.True(t, b.eye.GoToGap(pair))
	found := false
	for _, it := range b.rear.picture.Items {
		found = found || it.Kind == drawing.Text && strings.HasSuffix(it.Words, "mm")
	}
	assert.True(t, found, "the gap stands beside its dimension")
	b.eye.Home()
	assert.Equal(t, FitLinks, b.eye.Framing())
	assert.False(t, b.eye.GoToGap(99999))
}

func TestEverythingDrawnIsCutToTheView(t *testing.T) {
	b := open(t, "survey-wagon")
	b.eye.GoTo(r3.Vec{X: 100, Y: 300, Z: 500})
	for _, v := range b.eye.views {
		s := v.Size()
		for _, it := range v.picture.Items {
			if it.Kind == drawing.Circle || it.Kind == drawing.Bar {
				continue
			}
			for _, p := range it.Points {
				if it.Kind == drawing.Text {
					break
				}
				assert.True(t, p.X > -60 && p.Y > -60 && p.X < float64(s.Width)+60 && p.Y < float64(s.Height)+60, "%v at %v", it.Kind, p)
			}
		}
	}
}

func TestEveryDemoIsMarkedAndDrawn(t *testing.T) {
	for _, demo := range assets.Demos() {
		b := open(t, demo)
		for _, v := range b.eye.views {
			_, ok := v.Where("DEMO, not your vehicle")
			assert.True(t, ok, demo)
			assert.Greater(t, len(v.pool.Objects()), 30, demo)
		}
	}
}

func TestPaintAreas(t *testing.T) {
	test.NewTempApp(t)
	f := newFills()
	square := []drawing.Point{{X: 10, Y: 10}, {X: 50, Y: 10}, {X: 50, Y: 50}, {X: 10, Y: 50}}
	items := []drawing.Item{{Kind: drawing.Fill, Fill: ink.PartFill, Stroke: ink.None, Points: square}}
	size := fyne.NewSize(60, 60)
	f.set(items, size)
	require.False(t, f.empty())
	assert.Equal(t, fyne.NewPos(9, 9), f.raster.Position())
	assert.Equal(t, fyne.NewSize(42, 42), f.raster.Size())
	img := f.paint(84, 84) // at two device pixels a unit
	r, g, b, a := img.At(40, 40).RGBA()
	want := ink.Color(ink.PartFill, look.Dark())
	assert.Equal(t, color.NRGBA{uint8(r >> 8), uint8(g >> 8), uint8(b >> 8), uint8(a >> 8)}, want)
	_, _, _, out := img.At(0, 0).RGBA()
	assert.Zero(t, out)
	f.set(items, size)
	assert.False(t, f.stale, "the same areas are not painted again")
	items[0].Points = append([]drawing.Point(nil), square[:3]...)
	f.set(items, size)
	assert.True(t, f.stale)
	f.set(nil, size)
	assert.True(t, f.empty())
}

// place is where a body point is in the view.
func (v *View) place(p r3.Vec) fyne.Position {
	x, y := v.transform().Place(p)
	return fyne.NewPos(float32(x), float32(y))
}

// The grip of the held pivot's bolt turns it in the view's plane, as one step; Escape puts it back; the arrows turn it while its grip has them.
func TestTurningTheHeldPivotsBolt(t *testing.T) {
	b := open(t, "orchard-sprayer")
	p, at := b.pivot(rodFrame)
	b.doc.Hold(p)
	was, _ := edit.Bolt(b.doc.Current(), p)
	bolt := func() r3.Vec { d, _ := edit.Bolt(b.doc.Current(), p); return d }
	from := b.where(b.plan, "bolt of "+rodFrame)
	pivot := b.where(b.plan, rodFrame)
	spoke := from.Subtract(pivot)
	to := pivot.AddXY(spoke.X*0.866+spoke.Y*0.5, spoke.Y*0.866-spoke.X*0.5) // 30 deg anticlockwise as seen
	dragPath(b.plan, from, to, desktop.MouseButtonPrimary)
	assert.InDelta(t, 30, math.Acos(math.Abs(r3.Dot(was, bolt())))*180/math.Pi, 1)
	assert.Zero(t, bolt().Z)
	assert.Equal(t, edit.BoltWords(b.doc.Current(), p), b.plan.note)
	assert.Contains(t, b.plan.note, "turned")
	now, _ := edit.At(b.doc.Current(), p)
	assert.Equal(t, at, now, "the pivot stays")
	label, ok := b.doc.Undo()
	require.True(t, ok)
	assert.Equal(t, "turn bolt of "+rodFrame, label)
	assert.Equal(t, was, bolt())
	assert.Empty(t, b.plan.note, "it told of what is undone")
	_, more := b.doc.CanUndo()
	assert.False(t, more, "one step")

	b.doc.Hold(p)
	press(b.plan, from, desktop.MouseButtonPrimary)
	dragOn(b.plan, from, to)
	require.NotEqual(t, was, bolt())
	b.plan.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	assert.Equal(t, was, bolt())
	_, held := b.doc.Held()
	assert.True(t, held)

	b.plan.TypedRune('b')
	assert.Contains(t, b.plan.note, "Arrows turn the bolt")
	for range 3 {
		b.plan.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	}
	assert.InDelta(t, 3, math.Acos(math.Abs(r3.Dot(was, bolt())))*180/math.Pi, 1e-6)
	b.plan.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyDown, Modifier: fyne.KeyModifierControl})
	assert.InDelta(t, 2.9, math.Acos(math.Abs(r3.Dot(was, bolt())))*180/math.Pi, 1e-6)
	b.plan.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	b.plan.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	moved, _ := edit.At(b.doc.Current(), p)
	assert.NotEqual(t, at, moved, "the arrows move the pivot again")
	b.rear.TypedRune('b')
	assert.Contains(t, b.rear.note, "looks along the bolt")
}

// While the pivot hangs on the pointer its bolt has no grips; once it is put down it has.
func TestGripsWaitTillThePivotIsPutDown(t *testing.T) {
	b := open(t, "orchard-sprayer")
	at := b.where(b.plan, rodFrame)
	grips := func(v *View) bool { _, ok := v.Where("bolt of " + rodFrame); return ok }
	press(b.plan, at, desktop.MouseButtonPrimary)
	release(b.plan, at, desktop.MouseButtonPrimary)
	assert.False(t, grips(b.plan))
	assert.False(t, grips(b.side))
	press(b.plan, at, desktop.MouseButtonPrimary)
	release(b.plan, at, desktop.MouseButtonPrimary)
	assert.True(t, grips(b.plan))
	assert.True(t, grips(b.side))
	_, undo := b.doc.CanUndo()
	assert.False(t, undo)
}

// A bolt near to its own link's direction is refused in a sentence, and stays where it could still be.
func TestABoltAlongItsLinkIsRefused(t *testing.T) {
	b := open(t, "orchard-sprayer")
	p, _ := b.pivot(rodFrame)
	b.doc.Hold(p)
	from, pivot := b.where(b.plan, "bolt of "+rodFrame), b.where(b.plan, rodFrame)
	press(b.plan, from, desktop.MouseButtonPrimary)
	dragOn(b.plan, from, pivot.AddXY(0, -46)) // across, as the rod lies
	assert.Contains(t, b.plan.note, "within 10 deg of its own link")
	bolt, _ := edit.Bolt(b.doc.Current(), p)
	assert.Less(t, math.Abs(bolt.Y), math.Cos(9.9*math.Pi/180))
	release(b.plan, pivot.AddXY(0, -46), desktop.MouseButtonPrimary)
	b.plan.DragEnd()
}

// looseJob is the sprayer with nothing to stop its axle moving sideways.
func looseJob(t *testing.T) *job.Job {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo("orchard-sprayer")))
	require.NoError(t, err)
	j.Links = j.Links[:len(j.Links)-1]
	for i := range j.Links {
		j.Links[i].Measured = nil
		j.Links[i].Axle[1] = j.Links[i].Frame[1]
	}
	return j
}

// An axle that nothing holds swings in the views, says how in one of them, stands still while a hand works, and stops for good when it is held.
func TestALooseAxleSwingsTillItIsHeld(t *testing.T) {
	b := open(t, "orchard-sprayer")
	good := b.doc.Current()
	running, tick := 0, func() {}
	b.eye.every = func(_ time.Duration, f func()) func() {
		running++
		tick = f
		return func() { running-- }
	}
	b.eye.animated = func() bool { return true }
	lines := func(v *View) (n int, words []string) {
		for _, o := range v.over.Objects() {
			if _, ok := o.(*canvas.Line); ok {
				n++
			}
		}
		v.over.Texts(func(s string, _ fyne.Position, _ fyne.Size) {
			if strings.HasPrefix(s, "Nothing stops") {
				words = append(words, s)
			}
		})
		return n, words
	}
	n, _ := lines(b.plan)
	require.Zero(t, n)
	require.NoError(t, b.doc.Edit("loose", "", func(j *job.Job) error { j.Links = looseJob(t).Links; return nil }))
	require.Equal(t, 1, running)
	objects := b.plan.pool.Objects()
	tick()
	tick()
	assert.Equal(t, len(objects), len(b.plan.pool.Objects()), "the picture under it stays")
	n, words := lines(b.plan)
	assert.Greater(t, n, 5)
	assert.Equal(t, "Nothing stops the axle moving sideways.", strings.Join(words, " "))
	_, words = lines(b.rear)
	assert.Empty(t, words, "once is enough")
	places := func() (out []fyne.Position) {
		for _, o := range b.plan.over.Objects() {
			if l, ok := o.(*canvas.Line); ok {
				out = append(out, l.Position1, l.Position2)
			}
		}
		return out
	}
	before := places()
	tick()
	assert.NotEqual(t, before, places(), "it moves")

	from := b.where(b.plan, "Lower left, frame end")
	press(b.plan, from, desktop.MouseButtonPrimary)
	b.plan.Refresh()
	assert.Zero(t, running, "a hand works")
	n, _ = lines(b.plan)
	assert.Zero(t, n)
	dragOn(b.plan, from, from.AddXY(6, 0))
	release(b.plan, from.AddXY(6, 0), desktop.MouseButtonPrimary)
	b.plan.DragEnd()
	assert.Equal(t, 1, running)

	require.NoError(t, b.doc.Edit("held again", "", func(j *job.Job) error { *j = *good.Clone(); return nil }))
	assert.Zero(t, running)
	n, _ = lines(b.plan)
	assert.Zero(t, n)
	b.doc.Undo()
	assert.Equal(t, 1, running)
	for _, v := range []*View{b.side, b.rear, b.plan} {
		v.Close()
	}
	assert.Zero(t, running, "no view is left")
}

// Where nothing is to move by itself both ends of the swing stand as pencil lines.
func TestALooseAxleWithoutAnimation(t *testing.T) {
	b := open(t, "orchard-sprayer")
	b.eye.every = func(time.Duration, func()) func() { t.Error("nothing is to move"); return func() {} }
	b.eye.animated = func() bool { return false }
	require.NoError(t, b.doc.Edit("loose", "", func(j *job.Job) error { j.Links = looseJob(t).Links; return nil }))
	assert.Greater(t, len(b.plan.over.Objects()), 50, "long dashes with two dots")
}
