package bench

import (
	"strings"
	"testing"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/panel"
	"axleloft/app/view"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// taping opens the tapes for the Panhard rod's frame end, from three bolts at Z 600; lengths to (-230, -431, 530) or its mirror image at Z 670.
func taping(t *testing.T) (*Bench, document.Pivot) {
	t.Helper()
	b := open(t, Options{})
	for _, d := range []edit.DatumText{{Name: "Bolt 1", X: "0", Y: "400", Z: "600"}, {Name: "Bolt 2", X: "0", Y: "-400", Z: "600"}, {Name: "Mark", X: "-900", Y: "400", Z: "600"}, {Name: "Floor", Z: "0"}} {
		require.NoError(t, b.doc.AddDatum(d))
	}
	p := hold(b)
	require.NoError(t, b.doc.SetMeasured(p, false))
	b.doc.Hold(p)
	b.run("tapes")
	require.True(t, b.tapes.IsOpen())
	return b, p
}

func typeTape(t *testing.T, b *Bench, name, text string) {
	t.Helper()
	e, ok := b.tapes.Named(name).(*panel.Entry)
	require.True(t, ok, name)
	e.SetText(text)
	e.OnSubmitted("")
}

func typeThree(t *testing.T, b *Bench) {
	t.Helper()
	for i, l := range []string{"865.08", "242.41", "1069.75"} {
		typeTape(t, b, "length "+string(rune('1'+i)), l)
	}
}

func TestAPivotByTapes(t *testing.T) {
	b, p := taping(t)
	for _, s := range [][2]float32{{1366, 688}, {1093, 550}, {960, 480}, {1920, 1080}} {
		b.root.Resize(fyne.NewSize(s[0], s[1]))
		assert.False(t, b.card.Visible())
		assert.False(t, b.findings.Visible())
		assert.InDelta(t, b.foot.Position().Y, b.tapes.Object.Position().Y+b.tapes.Object.Size().Height, 0.1)
	}
	b.root.Resize(fyne.NewSize(1366, 688))
	assert.Empty(t, b.tapes.Lines())
	typeThree(t, b)
	lines := b.tapes.Lines()
	require.Len(t, lines, 2)
	for _, l := range lines {
		assert.Contains(t, l, "X −230 ± ")
		assert.Contains(t, l, "Poor spread: Z is held badly")
	}
	assert.Contains(t, lines[0], "Z 670")
	assert.NotContains(t, lines[0], "from where it stood")
	assert.Contains(t, lines[1], "Z 530")
	assert.Contains(t, lines[1], "from where it stood", "the nearer one is meant at first")

	// the other one by a press in the side view, and back
	press := func(at r3.Vec) {
		s := b.views[view.Side]
		eye := view.Eye{At: b.eye.Centre(), Scale: b.eye.Scale()}
		x, y := eye.Transform(view.Side, view.Size{W: float64(s.Size().Width), H: float64(s.Size().Height)}).Place(at)
		e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
		e.Position = fyne.NewPos(float32(x), float32(y))
		s.MouseDown(e)
		s.MouseUp(e)
	}
	press(r3.Vec{X: -230, Y: -431, Z: 670})
	assert.Contains(t, b.tapes.Lines()[0], "from where it stood")
	press(r3.Vec{X: -230, Y: -431, Z: 530})
	assert.Contains(t, b.tapes.Lines()[1], "from where it stood")

	button(t, b, "Take it").Tapped(nil)
	assert.False(t, b.tapes.IsOpen())
	b.refresh()
	assert.True(t, b.card.Visible())
	assert.True(t, b.findings.Visible())
	at, _ := edit.At(b.doc.Current(), p)
	assert.InDelta(t, 0, r3.Norm(r3.Sub(at, r3.Vec{X: -230, Y: -431, Z: 530})), 1)
	assert.Contains(t, strings.Join(b.card.Texts(), "|"), "3 tapes")

	b.run("tapes") // what was typed is there again
	e, ok := b.tapes.Named("length 2").(*panel.Entry)
	require.True(t, ok)
	assert.Equal(t, "242.41 mm", e.Text)
	assert.Len(t, b.tapes.Lines(), 2)
	b.tapes.Close()
	label, ok := b.doc.Undo()
	require.True(t, ok)
	assert.Equal(t, "by tapes: Panhard rod, frame end", label)
}

func TestEscapeLeavesTheTapesAndChangesNothing(t *testing.T) {
	b, p := taping(t)
	before := b.doc.Current()
	typeThree(t, b)
	b.escape()
	assert.False(t, b.tapes.IsOpen())
	assert.Same(t, before, b.doc.Current())
	held, ok := b.doc.Held()
	require.True(t, ok, "the pivot stays in hand")
	assert.Equal(t, p, held)

	b.run("tapes")
	b.views[view.Side].TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	assert.False(t, b.tapes.IsOpen())

	b.run("tapes") // and goes with the pivot
	b.doc.LetGo()
	b.refresh()
	assert.False(t, b.tapes.IsOpen())
	assert.True(t, b.findings.Visible())
}

func TestTapesRefusedInWords(t *testing.T) {
	b, _ := taping(t)
	typeThree(t, b)
	typeTape(t, b, "length 1", "about 800")
	assert.Contains(t, strings.Join(b.tapes.Lines(), " "), "Tape 1")
	typeTape(t, b, "length 1", "3000")
	assert.Contains(t, strings.Join(b.tapes.Lines(), " "), "do not reach one point")
	require.NoError(t, b.doc.SetKeepLength(2, true))
	typeTape(t, b, "length 1", "865.08")
	button(t, b, "Take it").Tapped(nil)
	assert.True(t, b.tapes.IsOpen())
	assert.Contains(t, strings.Join(b.tapes.Lines(), " "), "keeps its length")
}

func TestDatumsAreAddedCorrectedAndRemoved(t *testing.T) {
	b := open(t, Options{})
	b.run("datums")
	d := b.drawers[panel.DatumsDrawer]
	require.NotNil(t, d)
	assert.Contains(t, d.Lines()[0], "A datum is something measurements start from")
	add := func(text ...string) {
		d.Named("Add a datum...").(fyne.Tappable).Tapped(nil)
		x := b.boxes[len(b.boxes)-1]
		for i, s := range text {
			x.fields[i].SetText(s)
		}
		x.first().Tapped(nil)
		require.Empty(t, b.boxes)
	}
	add("Bolt 1", "0", "400", "600", "")
	add("Bolt 2", "0", "-400", "600", "")
	add("Bolt 3", "-1500", "-400", "600", "")
	add("Bolt 4", "-1500", "400", "612", "2")
	b.refresh()
	lines := d.Lines()
	assert.Equal(t, "Bolt 4: X −1500, Y 400, Z 612 mm, ± 2. Press to correct.", lines[len(lines)-1])
	d.Named("Level and square...").(fyne.Tappable).Tapped(nil)
	x := b.boxes[0]
	x.fields[4].SetText("1703")
	x.fields[5].SetText("1697")
	x.first().Tapped(nil)
	assert.Contains(t, d.Lines()[0], "out of square")
	assert.Contains(t, d.Lines()[0], "12 mm off the plane")

	p := hold(b)
	require.NoError(t, b.doc.SetDatum(p, edit.Z, "Bolt 1"))
	require.NoError(t, b.doc.SetMeasured(p, false))
	require.NoError(t, b.doc.TypePivot(p, edit.Z, "-60"))
	d.Named("Bolt 1").(fyne.Tappable).Tapped(nil)
	x = b.boxes[0]
	x.fields[3].SetText("605")
	x.first().Tapped(nil)
	assert.Contains(t, d.Lines()[0], "Bolt 1: 1 number moved with it.")
	at, _ := edit.At(b.doc.Current(), p)
	assert.InDelta(t, 545, at.Z, 1e-9)
	b.doc.Undo()
	b.refresh()
	assert.NotContains(t, strings.Join(d.Lines(), " "), "moved with it")
	at, _ = edit.At(b.doc.Current(), p)
	assert.InDelta(t, 540, at.Z, 1e-9)
	d.Named("Remove Bolt 1").(fyne.Tappable).Tapped(nil)
	assert.Contains(t, d.Lines()[0], "Numbers counted from it: 1")
	assert.Len(t, d.Lines(), 4)
}

func button(t *testing.T, b *Bench, name string) fyne.Tappable {
	t.Helper()
	o, ok := b.tapes.Named(name).(fyne.Tappable)
	require.True(t, ok, name)
	return o
}
