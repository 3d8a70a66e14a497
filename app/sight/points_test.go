package sight

import (
	"testing"

	"axleloft/app/edit"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// guard adds a planned part far from every pivot and chooses it.
func (b *bench) guard(add func(j *job.Job) (edit.Part, error)) (edit.Part, func() *job.Envelope) {
	b.Helper()
	var part edit.Part
	require.NoError(b, b.doc.Edit("add", "", func(j *job.Job) error {
		var err error
		part, err = add(j)
		return err
	}))
	b.doc.Select(part)
	b.eye.Frame(r3.Vec{X: 2500, Y: -400, Z: 400}, r3.Vec{X: 3500, Y: 400, Z: 1200})
	return part, func() *job.Envelope { return &b.doc.Current().Envelopes[part.Index] }
}

func aBox(j *job.Job) (edit.Part, error) {
	return edit.AddBox(j, "Winch", r3.Vec{X: 2800, Y: -200, Z: 600}, r3.Vec{X: 3200, Y: 200, Z: 900})
}

func anOutline(j *job.Job) (edit.Part, error) {
	return edit.AddOutline(j, "Guard", "side", []job.Point2{{2800, 600}, {3200, 600}, {3200, 900}, {2800, 900}}, -200, 200)
}

func aPipe(j *job.Job) (edit.Part, error) {
	return edit.AddPipe(j, "Exhaust", []r3.Vec{{X: 2700, Y: -100, Z: 600}, {X: 3300, Y: -100, Z: 600}}, 60)
}

// place is where a view shows a body place.
func place(v *View, at r3.Vec) fyne.Position {
	x, y := v.transform().Place(at)
	return fyne.NewPos(float32(x), float32(y))
}

func key(v *View, k fyne.KeyName) { v.TypedKey(&fyne.KeyEvent{Name: k}) }

func TestACornerOfABoxIsDraggedInEachView(t *testing.T) {
	b := open(t, "orchard-sprayer")
	_, e := b.guard(aBox)
	assert.Len(t, b.side.pointHandles(), 4, "corners one behind the other are one")
	from := place(b.side, r3.Vec{X: 3200, Z: 900})
	dragPath(b.side, from, from.AddXY(20, -10), desktop.MouseButtonPrimary)
	step, scale := b.eye.Step(), b.eye.Scale()
	assert.InDelta(t, 3200+20/scale, e().Max[0], step)
	assert.InDelta(t, 900+10/scale, e().Max[2], step)
	assert.Equal(t, job.Point{2800, -200, 600}, *e().Min)
	assert.Equal(t, 200.0, e().Max[1], "the view does not show it")
	b.doc.Undo()
	assert.Equal(t, job.Point{3200, 200, 900}, *e().Max, "one step")
	from = place(b.rear, r3.Vec{Y: 200, Z: 600})
	dragPath(b.rear, from, from.AddXY(-12, 0), desktop.MouseButtonPrimary)
	assert.InDelta(t, 200+12/scale, e().Max[1], step)
	assert.Equal(t, 600.0, e().Min[2])
}

func TestAnOutlineThatWouldCrossItselfStaysAndSaysSoAtThePointer(t *testing.T) {
	b := open(t, "orchard-sprayer")
	_, e := b.guard(anOutline)
	was := append([]job.Point2{}, e().Outline...)
	from, to := place(b.side, r3.Vec{X: 2800, Z: 600}), place(b.side, r3.Vec{X: 3300, Z: 750})
	press(b.side, from, desktop.MouseButtonPrimary)
	b.side.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: to}})
	b.side.hand.lead.Now()
	assert.Contains(t, b.side.hand.refused, "would cross or touch itself")
	assert.Equal(t, was, e().Outline)
	b.side.draw()
	said := ""
	b.side.pool.Texts(func(s string, _ fyne.Position, _ fyne.Size) { said += s + " " })
	assert.Contains(t, said, "The outline of Guard would cross or touch itself.")
	release(b.side, to, desktop.MouseButtonPrimary)
	assert.Equal(t, was, e().Outline)
	label, _ := b.doc.CanUndo()
	assert.Equal(t, "add", label, "nothing was done")
}

func TestEscapePutsADraggedPointBack(t *testing.T) {
	b := open(t, "orchard-sprayer")
	_, e := b.guard(anOutline)
	was := append([]job.Point2{}, e().Outline...)
	from := place(b.side, r3.Vec{X: 3200, Z: 900})
	press(b.side, from, desktop.MouseButtonPrimary)
	dragOn(b.side, from, from.AddXY(30, -5))
	b.side.hand.lead.Now()
	assert.NotEqual(t, was, e().Outline)
	key(b.side, fyne.KeyEscape)
	assert.Equal(t, was, e().Outline)
}

func TestAPressOnAnEdgeAddsAPointAndADragOfItMovesThePart(t *testing.T) {
	b := open(t, "orchard-sprayer")
	_, e := b.guard(anOutline)
	at := place(b.side, r3.Vec{X: 3000, Z: 900})
	press(b.side, at, desktop.MouseButtonPrimary)
	release(b.side, at, desktop.MouseButtonPrimary)
	require.Len(t, e().Outline, 5)
	assert.InDeltaSlice(t, []float64{3000, 900}, e().Outline[3][:], b.eye.Step())
	h, ok := b.side.lit()
	require.True(t, ok, "it has the arrows")
	assert.Equal(t, edit.PartPoint{Kind: edit.OutlinePoint, Index: 3}, h.PartPoint)
	key(b.side, fyne.KeyUp)
	key(b.side, fyne.KeyUp)
	assert.InDelta(t, 902, e().Outline[3][1], b.eye.Step())
	key(b.side, fyne.KeyDelete)
	assert.Len(t, e().Outline, 4)
	b.doc.Undo()
	b.doc.Undo()
	b.doc.Undo()
	assert.Len(t, e().Outline, 4)

	was := e().Outline[0]
	from := place(b.side, r3.Vec{X: 3050, Z: 600})
	dragPath(b.side, from, from.AddXY(20, 0), desktop.MouseButtonPrimary)
	assert.Len(t, e().Outline, 4)
	assert.InDelta(t, was[0]+20/b.eye.Scale(), e().Outline[0][0], b.eye.Step())
	assert.InDelta(t, 3200+20/b.eye.Scale(), e().Outline[1][0], b.eye.Step())
}

func TestPointsByKeys(t *testing.T) {
	b := open(t, "orchard-sprayer")
	_, e := b.guard(aPipe)
	v := b.plan
	v.FocusGained()
	require.True(t, v.AcceptsTab())
	key(v, fyne.KeyTab)
	key(v, fyne.KeyTab)
	assert.False(t, v.AcceptsTab(), "past the last point Tab leaves the view")
	key(v, fyne.KeyUp)
	assert.Equal(t, job.Point{3300, -99, 600}, e().Path[1])
	assert.Equal(t, "1 mm a press; X 3300  Y −99 mm, run 600 mm", v.note)
	key(v, fyne.KeyInsert)
	require.Len(t, e().Path, 3)
	assert.Equal(t, job.Point{3000, -99.5, 600}, e().Path[1])
	v.modifiers = func() fyne.KeyModifier { return fyne.KeyModifierShift }
	key(v, fyne.KeyDown)
	assert.Equal(t, job.Point{3000, -109.5, 600}, e().Path[1])
	assert.True(t, v.AcceptsTab())
	key(v, fyne.KeyTab)
	assert.False(t, v.AcceptsTab(), "with Shift before the first")
	v.modifiers = func() fyne.KeyModifier { return 0 }
	key(v, fyne.KeyTab)
	key(v, fyne.KeyDelete)
	assert.Len(t, e().Path, 2)
	key(v, fyne.KeyDelete)
	assert.Contains(t, v.note, "Tab goes to a point")
	v.FocusLost()
	assert.False(t, v.hasLit)
}

func TestABallsRadiusAndItsMiddle(t *testing.T) {
	b := open(t, "orchard-sprayer")
	_, e := b.guard(func(j *job.Job) (edit.Part, error) {
		return edit.AddBall(j, "Pot", r3.Vec{X: 3000, Y: 50, Z: 750}, 150)
	})
	for _, v := range b.eye.views {
		list := v.pointHandles()
		require.Len(t, list, 2)
		rim := list[1]
		from := fyne.NewPos(float32(rim.X), float32(rim.Y))
		was := *e().Radius
		dragPath(v, from, from.AddXY(15, 0), desktop.MouseButtonPrimary)
		assert.InDelta(t, was+15/b.eye.Scale(), *e().Radius, b.eye.Step(), "view %d", v.plane)
	}
	from := place(b.plan, r3.Vec{X: 3000, Y: 50, Z: 750})
	dragPath(b.plan, from, from.AddXY(0, 10), desktop.MouseButtonPrimary)
	assert.InDelta(t, 50-10/b.eye.Scale(), e().Centre[1], b.eye.Step())
	assert.Equal(t, 3000.0, e().Centre[0])
}

func TestTheEndsOfAnOutlinedPartAreLedInTheOtherViews(t *testing.T) {
	b := open(t, "orchard-sprayer")
	_, e := b.guard(anOutline)
	list := b.plan.pointHandles()
	require.Len(t, list, 2)
	from := fyne.NewPos(float32(list[1].X), float32(list[1].Y))
	dragPath(b.plan, from, from.AddXY(9, -12), desktop.MouseButtonPrimary)
	assert.InDelta(t, 200+12/b.eye.Scale(), *e().To, b.eye.Step())
	assert.Equal(t, -200.0, *e().From)
	assert.Len(t, e().Outline, 4)
}

// The right twin's points move as a hand moves them; the file keeps the left.
func TestPointsOfATwin(t *testing.T) {
	b := open(t, "orchard-sprayer")
	part, e := b.guard(func(j *job.Job) (edit.Part, error) {
		return edit.AddBox(j, "Step", r3.Vec{X: 2800, Y: 150, Z: 600}, r3.Vec{X: 3200, Y: 300, Z: 900})
	})
	require.NoError(t, b.doc.SetField(part, "pair", "yes"))
	assert.Len(t, b.side.pointHandles(), 4, "twins lie one behind the other")
	assert.Len(t, b.plan.pointHandles(), 8)
	from := place(b.plan, r3.Vec{X: 3200, Y: -300})
	dragPath(b.plan, from, from.AddXY(0, 10), desktop.MouseButtonPrimary)
	assert.InDelta(t, 300+10/b.eye.Scale(), e().Max[1], b.eye.Step())
	assert.Equal(t, 150.0, e().Min[1])
}

func TestMeasuredPartsShowNoHandles(t *testing.T) {
	b := open(t, "orchard-sprayer")
	part, e := b.guard(anOutline)
	require.NoError(t, b.doc.SetPartMeasured(part, true))
	assert.Empty(t, b.side.pointHandles())
	was := e().Outline[2]
	from := place(b.side, r3.Vec{X: 3200, Z: 900})
	press(b.side, from, desktop.MouseButtonPrimary)
	dragOn(b.side, from, from.AddXY(10, 10))
	b.side.hand.lead.Now()
	assert.Equal(t, "measured: press Free to move it", b.side.note)
	release(b.side, from.AddXY(10, 10), desktop.MouseButtonPrimary)
	assert.Equal(t, was, e().Outline[2])
	key(b.side, fyne.KeyDelete)
	assert.Equal(t, "measured: press Free to move it", b.side.note)
}

// While a tank's corner is in the hand, its litres and the nearest thing stand beside the pointer; while it is dragged whole, the nearest thing.
func TestLitresAndTheNearestThingStandBesideThePointer(t *testing.T) {
	b := open(t, "orchard-sprayer")
	part, _ := b.guard(aBox)
	require.NoError(t, b.doc.SetField(part, "vessel", "yes"))
	said := func() (all string) {
		b.side.hand.lead.Now()
		b.side.draw()
		b.side.pool.Texts(func(s string, _ fyne.Position, _ fyne.Size) { all += s + "; " })
		return all
	}
	b.side.draw()
	from := b.where(b.side, "point 1")
	press(b.side, from, desktop.MouseButtonPrimary)
	dragOn(b.side, from, from.AddXY(-10, 10))
	words := said()
	assert.Contains(t, words, "L, outside measure")
	assert.Regexp(t, "(gap|tight: ).* to ", words)
	release(b.side, from, desktop.MouseButtonPrimary)
	edge := place(b.side, r3.Vec{X: 3000, Z: 900})
	press(b.side, edge, desktop.MouseButtonPrimary)
	dragOn(b.side, edge, edge.AddXY(20, -10))
	words = said()
	assert.NotContains(t, words, "outside measure")
	assert.Regexp(t, "(gap|tight: ).* to ", words)
	release(b.side, edge, desktop.MouseButtonPrimary)
}

// A pivot that lies where a handle is, is what a press takes.
func TestPivotsComeBeforePoints(t *testing.T) {
	b := open(t, "orchard-sprayer")
	_, at := b.pivot(rodFrame)
	b.guard(func(j *job.Job) (edit.Part, error) {
		return edit.AddBox(j, "Near", at, r3.Add(at, r3.Vec{X: 300, Y: 300, Z: 300}))
	})
	b.eye.Frame(r3.Sub(at, r3.Vec{X: 400, Y: 400, Z: 400}), r3.Add(at, r3.Vec{X: 400, Y: 400, Z: 400}))
	press(b.side, place(b.side, at), desktop.MouseButtonPrimary)
	assert.Equal(t, onPivot, b.side.hand.grip)
}
