package panel

import (
	"testing"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/view"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// standingDrawer opens the drawer over the sprayer.
func standingDrawer(t *testing.T) (*document.Document, *Host, *DrawerFrame) {
	t.Helper()
	h := open(t, "orchard-sprayer").h
	h.Lay = func(string, []view.Laid) {}
	d := h.Doc
	f := NewDrawer(h, StandingDrawer)
	win := test.NewTempWindow(t, f)
	win.Resize(fyne.NewSize(940, 316))
	f.Opened()
	cancel := d.Subscribe(f.Update)
	t.Cleanup(cancel)
	return d, h, f
}

func enter(t *testing.T, f *DrawerFrame, name, text string) {
	t.Helper()
	e, ok := f.Named(name).(*Entry)
	require.True(t, ok, name)
	e.SetText(text)
	e.FocusGained()
	e.SetText(text)
	e.FocusLost()
}

// Numbers of how the axle lay, then a pivot's: what it comes to is shown before it is taken, taken it stands there, and a corrected angle moves it.
func TestAxleOnStandsIsTakenInItsDrawer(t *testing.T) {
	d, _, f := standingDrawer(t)
	assert.Contains(t, f.Lines()[0], "Type the angle the pinion had")
	enter(t, f, "pinion", "12")
	assert.Contains(t, f.Lines()[0], "did 12.0 as the axle lay")
	var p document.Pivot
	for _, q := range edit.Pivots(d.Current()) {
		if q.List == document.Links && edit.CanStand(d.Current(), q, edit.OnStands) {
			p = q
			break
		}
	}
	require.NoError(t, d.SetMeasured(p, false))
	d.Hold(p)
	assert.Equal(t, edit.Name(d.Current(), p), f.Lines()[1])
	take := f.Named("Take it").(*look.Button)
	assert.True(t, take.Disabled())
	for name, text := range map[string]string{"Ahead": "40", "Left": "430", "Up": "-60", "±": "2"} {
		f.Named(name).(*Entry).SetText(text)
	}
	assert.False(t, take.Disabled())
	at, _, err := d.StoodAt(edit.OnStands, edit.StoodText{Typed: [3]string{"40", "430", "-60"}})
	require.NoError(t, err)
	test.Tap(take)
	now, _ := edit.At(d.Current(), p)
	assert.InDelta(t, at.X, now.X, 1e-6)
	assert.Contains(t, f.Lines(), "Measured so: 1")
	how, text, ok := edit.StoodOf(d.Current(), p)
	assert.True(t, ok && how == edit.OnStands)
	assert.Equal(t, "2 mm", text.PlusMinus)

	enter(t, f, "pinion", "14")
	assert.Contains(t, f.Lines()[0], "All moved with it")
	moved, _ := edit.At(d.Current(), p)
	assert.NotEqual(t, now, moved)
	d.Undo()
	d.Undo()
	back, _ := edit.At(d.Current(), p)
	assert.NotEqual(t, now, back)
	assert.NotContains(t, f.Lines(), "Measured so: 1")
}

// A frame-side pivot in hand turns to the floor; a refused number is said and nothing changes.
func TestStandingFollowsThePivotInHand(t *testing.T) {
	d, _, f := standingDrawer(t)
	d.Hold(document.Pivot{List: document.Links, Index: 0, End: edit.FrameEnd, Side: job.Left})
	assert.Contains(t, f.Lines()[0], "how high the axle centre was")
	enter(t, f, "height", "600")
	enter(t, f, "rake", "1")
	assert.Contains(t, f.Lines()[0], "1.0 deg nose up")
	enter(t, f, "rake", "70")
	assert.NotNil(t, d.Current().Stood.Floor.Rake)
	assert.Equal(t, 1.0, *d.Current().Stood.Floor.Rake)
	f.Named("Ahead").(*Entry).SetText("abc")
	assert.True(t, f.Named("Take it").(*look.Button).Disabled())
}

// Astray places are told, and put where their numbers say by a press.
func TestStandingTellsPlacesAstray(t *testing.T) {
	d, _, f := standingDrawer(t)
	_, err := d.SetStood(edit.OnStands, "pinion", "12")
	require.NoError(t, err)
	p := document.Pivot{}
	for _, q := range edit.Pivots(d.Current()) {
		if q.List == document.Links && edit.CanStand(d.Current(), q, edit.OnStands) {
			p = q
			break
		}
	}
	require.NoError(t, d.SetMeasured(p, false))
	require.NoError(t, d.TakeStood(p, edit.OnStands, edit.StoodText{Typed: [3]string{"40", "430", "-60"}}))
	require.NoError(t, d.Edit("tyre", "", func(j *job.Job) error { j.Vehicle.Tyre.LoadedRadius += 6; return nil }))
	assert.Contains(t, f.Lines()[0], "by up to 6 mm")
	test.Tap(f.Named("Work them out again").(*look.Button))
	assert.NotContains(t, f.Lines()[0], "by up to")
}

// The drawer holds together in the least room there is.
func TestStandingInLittleRoom(t *testing.T) {
	_, _, f := standingDrawer(t)
	k := f.in.(*standing)
	for how := range edit.Stoods {
		k.choose(how)
		for _, w := range []float32{320, 520, 700, 1300} {
			k.box.Resize(fyne.NewSize(w, 200))
			assert.LessOrEqual(t, k.pick.Position().X+k.pick.Size().Width, w, "%s at %v", k.key(), w)
			for _, e := range k.row.fields {
				assert.Greater(t, e.Size().Width, float32(50))
			}
		}
	}
}

// A new datum measured from the floor is named, shown before it is taken, and moves when the floor is corrected.
func TestDatumFromTheFloorInItsDrawer(t *testing.T) {
	d, h, f := standingDrawer(t)
	k := f.in.(*standing)
	k.choose(2)
	enter(t, f, "height", "500")
	enter(t, f, "rake", "1")
	var ask func([]string) error
	h.AskMany = func(_ string, _, _ []string, done func([]string) error) { ask = done }
	m := k.menu()
	m.Items[len(m.Items)-1].Action()
	require.Error(t, ask([]string{" "}))
	require.NoError(t, ask([]string{"Hanger bolt"}))
	assert.Equal(t, "Datum: Hanger bolt", f.Lines()[1])
	for name, text := range map[string]string{"Ahead": "900", "Left": "420", "Height": "650"} {
		f.Named(name).(*Entry).SetText(text)
	}
	test.Tap(f.Named("Take it").(*look.Button))
	was, ok := edit.DatumPlace(d.Current(), "Hanger bolt")
	require.True(t, ok)
	assert.Contains(t, f.Lines(), "Datum: Hanger bolt: Ahead 900, Left 420, Height 650.")
	enter(t, f, "height", "503")
	now, _ := edit.DatumPlace(d.Current(), "Hanger bolt")
	assert.InDelta(t, -3, now.Z-was.Z, 0.01)
	assert.Contains(t, f.Lines()[0], "Places measured so: 1. All moved with it.")
	d.Undo()
	d.Undo()
	assert.Empty(t, edit.StoodDatums(d.Current()))
}

// Told where it hung, the axle can be stood there.
func TestAxleStandsWhereItHung(t *testing.T) {
	d, _, f := standingDrawer(t)
	f.in.(*standing).choose(1)
	show := f.Named("Stand it there").(*look.Button)
	assert.False(t, show.Visible())
	require.NoError(t, d.SetField(edit.Part{List: edit.Standing, Index: 1}, "strut", "Strut"))
	enter(t, f, "left", "560")
	enter(t, f, "right", "545")
	assert.True(t, show.Visible())
	test.Tap(show)
	left, right, err := d.HungAt()
	require.NoError(t, err)
	l, r := d.Travels()
	assert.InDelta(t, left, l, 1e-6)
	assert.InDelta(t, right, r, 1e-6)
	assert.Less(t, left, right)
}
