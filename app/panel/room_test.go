package panel

import (
	"bytes"
	"io"
	"strings"
	"testing"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/view"
	"axleloft/geometry/job"
	"axleloft/geometry/shape"

	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func init() { roomStep, roomSolidStep = 5, 25 }

// openRoom opens the drawer on the selected rod.
func openRoom(t *testing.T) (*worked, *DrawerFrame, *room) {
	t.Helper()
	w := openWorked(t, "orchard-sprayer")
	for i := range w.h.Doc.Current().Links {
		if w.h.Doc.Current().Links[i].Name == "Panhard rod" {
			w.h.Doc.Select(edit.Part{List: edit.Links, Index: i})
		}
	}
	f := w.drawer(t, RoomDrawer)
	return w, f, f.in.(*room)
}

// The panel opens on the selected part, with three sections through its middle, each drawn in the view that sees it face-on.
func TestRoomOfTheSelectedPart(t *testing.T) {
	w, f, _ := openRoom(t)
	for _, l := range f.Lines() {
		refuseWords(t, l)
	}
	assert.Equal(t, "Panhard rod, wherever it goes over the whole travel, its brackets with it. It comes nowhere outside, proved over the whole travel, between positions too.", line(t, f, "Panhard rod,"))
	assert.Contains(t, line(t, f, "X −220 mm, in the rear view:"), "Y −4")
	line(t, f, "Y 20 mm, in the side view:")
	line(t, f, "Z 523 mm, in the plan:")
	laid := w.laid["room"]
	require.Len(t, laid, 3)
	for i, l := range laid {
		assert.True(t, l.Only)
		assert.Equal(t, [3]view.Plane{view.Rear, view.Side, view.Plan}[i], l.In)
		assert.NotEmpty(t, l.Loops)
	}
	assert.Equal(t, "room, Y 20 mm", laid[1].Words)
}

// What is typed counts: a margin, stations; six of them at most; the last can be taken out, and a press shows one large.
func TestRoomAsTyped(t *testing.T) {
	w, f, k := openRoom(t)
	narrow := k.found.got.room.Sections[1].Area
	k.round.SetText("25")
	k.round.OnSubmitted("25")
	w.wait(t, f)
	assert.Contains(t, line(t, f, "Panhard rod"), "Panhard rod")
	line(t, f, "Panhard rod and 25 mm round it, wherever it goes")
	assert.Greater(t, k.found.got.room.Sections[1].Area, narrow+1000)
	before := k.found.got.room.Sections[1]
	k.station.SetText("-300")
	k.station.OnSubmitted("-300")
	w.wait(t, f)
	line(t, f, "Y −300 mm, in the side view:")
	require.Len(t, w.laid["room"], 4)
	assert.Same(t, before, k.found.got.room.Sections[1], "what was worked out is kept")
	test.Tap(f.Named("Y −300").(*pressLine))
	require.Len(t, w.boxes, 1)
	assert.InDelta(t, -300, w.boxes[0][0].Y+60, 1e-6)
	for _, text := range []string{"-200", "-100", "0"} {
		k.station.SetText(text)
		k.station.OnSubmitted(text)
		w.wait(t, f)
	}
	assert.Equal(t, "There are 6 sections, the most that are drawn. Take one out first.", k.refused.Text())
	assert.Len(t, w.laid["room"], 6)
	for n := 5; n >= 3; n-- {
		test.Tap(k.ready[2])
		w.wait(t, f)
		assert.Len(t, w.laid["room"], n)
	}
	test.Tap(k.ready[2])
	w.wait(t, f)
	assert.Empty(t, w.laid["room"])
	line(t, f, "No section is asked for.")
	k.station.SetText("12 elephants")
	k.station.OnSubmitted("12 elephants")
	assert.NotEmpty(t, k.refused.Text())
	k.round.SetText("600")
	k.round.OnSubmitted("600")
	assert.Equal(t, "Give from 0 mm to 500 mm.", k.refused.Text())
	assert.InDelta(t, 25, k.margin, 0)
}

// A held pivot chooses its part, and a section goes through it.
func TestRoomThroughTheHeldPivot(t *testing.T) {
	w, f, k := openRoom(t)
	w.h.Doc.Hold(edit.Pivot{List: edit.Links, Index: 0, End: edit.AxleEnd, Side: job.Right})
	f.Update(^document.Change(0))
	w.wait(t, f)
	line(t, f, "Lower right, wherever it goes")
	k.axis = 0
	test.Tap(k.ready[1])
	w.wait(t, f)
	line(t, f, "X −20 mm, in the rear view:")
}

// The command writes the files with what is shown; a solid is worked out first.
func TestRoomSaved(t *testing.T) {
	w, f, k := openRoom(t)
	var name string
	var file bytes.Buffer
	w.h.SaveFile = func(n, format string, write func(io.Writer) error) {
		name = n + "." + format
		require.NoError(t, write(&file))
	}
	m := k.saveMenu()
	var labels []string
	for _, i := range m.Items {
		labels = append(labels, i.Label)
	}
	assert.Equal(t, "Drawing full size, PDF...|Drawing full size, SVG...|Drawing 1:10, PDF...|Drawing 1:10, SVG...|Outlines, CSV...|Solid, STL...", strings.Join(labels, "|"))
	m.Items[2].Action()
	assert.Equal(t, []string{"swept", "--part", "Panhard rod", "--margin=0", "--section=x=-220", "--section=y=20", "--section=z=523", "--scale=1:10"}, w.args)
	m.Items[5].Action()
	w.wait(t, f)
	assert.Equal(t, "room of Panhard rod.stl", name)
	mesh, err := shape.ReadSTL(&file)
	require.NoError(t, err)
	assert.True(t, mesh.Closed)
}

// Closed, it leaves nothing drawn, unless it is to be kept.
func TestRoomKeptDrawn(t *testing.T) {
	w, f, k := openRoom(t)
	test.Tap(k.top.keep)
	f.Closed()
	assert.Len(t, w.laid["room"], 3)
	test.Tap(k.top.keep)
	f.Closed()
	assert.Empty(t, w.laid["room"])
}
