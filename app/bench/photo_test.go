package bench

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"
	"time"

	"axleloft/app/edit"
	"axleloft/app/look"
	"axleloft/app/panel"
	"axleloft/app/view"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A picture dropped on a view lies behind it, is levelled, scaled and moved by presses in that view, and goes where the job goes.
func TestAPhotoBehindAView(t *testing.T) {
	b := open(t, Options{})
	b.root.Resize(fyne.NewSize(1366, 688))
	from, dir := t.TempDir(), t.TempDir()
	img := image.NewGray(image.Rect(0, 0, 400, 200))
	for i := range img.Pix {
		img.Pix[i] = uint8(i)
	}
	img.SetGray(0, 0, color.Gray{255})
	name := filepath.Join(from, "hoist.png")
	f, err := os.Create(name)
	require.NoError(t, err)
	require.NoError(t, png.Encode(f, img))
	require.NoError(t, f.Close())
	rear := b.views[view.Rear]
	on := b.place(rear).AddXY(rear.Size().Width/2, rear.Size().Height/2)
	drop := func(path string) { b.onDropped(on, []fyne.URI{storage.NewFileURI(path)}) }

	drop(name)
	require.Len(t, b.boxes, 1)
	assert.Equal(t, "Save the job first: such a file lies beside the job's own file.", b.boxes[0].words)
	b.boxes[0].escape()
	require.NoError(t, b.doc.SaveAs(filepath.Join(dir, "mine")))
	broken := filepath.Join(from, "broken.jpg")
	require.NoError(t, os.WriteFile(broken, []byte("no picture"), 0o600))
	drop(broken)
	require.Len(t, b.boxes, 1)
	assert.Contains(t, b.boxes[0].words, "roken.jpg is not taken. It is no picture that can be read")
	b.boxes[0].escape()
	drop(name)
	assert.Empty(t, b.boxes)
	_, p := b.doc.PhotoPath("rear")
	require.NotNil(t, p)
	assert.FileExists(t, filepath.Join(dir, "hoist.png"))
	_, side := b.doc.PhotoPath("side")
	assert.Nil(t, side)

	press := func(right, up float64) {
		s := rear.Size()
		eye := view.Eye{At: b.eye.Centre(), Scale: b.eye.Scale()}
		x, y := eye.Transform(view.Rear, view.Size{W: float64(s.Width), H: float64(s.Height)}).ToScreen(right, up)
		e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
		e.Position = fyne.NewPos(float32(x), float32(y))
		rear.MouseDown(e)
		rear.MouseUp(e)
	}
	button := func(name string) {
		t.Helper()
		if b.open != panel.PhotoDrawer {
			b.run("photo")
		}
		o, ok := b.drawers[panel.PhotoDrawer].Named(name).(*look.Button)
		require.True(t, ok, name)
		test.Tap(o)
	}
	at := func() (x, z float64) { _, p := b.doc.PhotoPath("rear"); return p.At[0], p.At[1] }
	x0, z0 := at()

	// Escape leaves and changes nothing.
	steps, _ := b.doc.CanUndo()
	button("Level rear")
	assert.Equal(t, panel.NoDrawer, b.open, "the drawer makes room")
	press(x0-100, z0)
	rear.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	assert.Equal(t, panel.PhotoDrawer, b.open)
	now, _ := b.doc.CanUndo()
	assert.Equal(t, steps, now)

	button("Level rear")
	press(x0-200, z0)
	press(x0+200, z0+20)
	_, p = b.doc.PhotoPath("rear")
	require.NotNil(t, p.Turn)
	assert.InDelta(t, -2.862, *p.Turn, 0.02, "atan(20/400)")
	before := *p.MmPerPixel
	x0, z0 = at()
	button("Scale rear")
	press(x0-100, z0)
	press(x0+100, z0)
	require.Len(t, b.boxes, 1)
	b.boxes[0].fields[0].SetText("20 in")
	test.Tap(b.boxes[0].button[len(b.boxes[0].button)-1])
	assert.Empty(t, b.boxes)
	_, p = b.doc.PhotoPath("rear")
	assert.InDelta(t, before*508/200, *p.MmPerPixel, 0.01*before)
	assert.Equal(t, "20 in", p.Typed)

	// Moved onto a pivot, and by the arrows.
	pivot := edit.Pivots(b.doc.Current())[0]
	v, _ := edit.At(b.doc.Current(), pivot)
	px, pz := view.Rear.Project(v)
	x0, z0 = at()
	button("Move rear")
	press(x0, z0)
	press(px, pz)
	x1, z1 := at()
	unit := 1 / b.eye.Scale()
	assert.InDelta(t, px, x1, unit, "its middle was pressed, to half a pixel")
	assert.InDelta(t, pz, z1, unit)
	button("Move rear")
	rear.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	_, z2 := at()
	assert.InDelta(t, z1+1, z2, 1e-9)
	rear.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	button("Stronger rear")
	_, p = b.doc.PhotoPath("rear")
	assert.InDelta(t, 0.65, edit.Opacity(p), 1e-9)
	button("Hide rear")
	_, p = b.doc.PhotoPath("rear")
	assert.True(t, p.Hidden)
	other := t.TempDir()
	require.NoError(t, b.doc.SaveAs(filepath.Join(other, "elsewhere")))
	assert.FileExists(t, filepath.Join(other, "hoist.png"))
	button("Remove rear")
	_, p = b.doc.PhotoPath("rear")
	assert.Nil(t, p)
	b.doc.Undo()
	_, p = b.doc.PhotoPath("rear")
	assert.NotNil(t, p)
}

// A view's photo is in the exported picture of the views, as strong as in the window, and not where it is hidden.
func TestPhotosAreExported(t *testing.T) {
	b := open(t, Options{})
	b.root.Resize(fyne.NewSize(1366, 688))
	dir := t.TempDir()
	img := image.NewNRGBA(image.Rect(0, 0, 400, 200))
	for i := 0; i < len(img.Pix); i += 4 {
		img.Pix[i], img.Pix[i+3] = 255, 255 // red
	}
	name := filepath.Join(t.TempDir(), "hoist.png")
	f, err := os.Create(name)
	require.NoError(t, err)
	require.NoError(t, png.Encode(f, img))
	require.NoError(t, f.Close())
	require.NoError(t, b.doc.SaveAs(filepath.Join(dir, "mine")))
	_, err = b.doc.AddPhoto(name, "rear", edit.Place2{0, 700}, 1600)
	require.NoError(t, err)
	rear := b.views[view.Rear]
	require.Eventually(t, func() bool { return rear.PhotoBehind(1) != nil }, 5*time.Second, 10*time.Millisecond)
	red := func() (n int) {
		var w bytes.Buffer
		require.NoError(t, b.writeViews(&w, "png"))
		out, err := png.Decode(&w)
		require.NoError(t, err)
		for y := range out.Bounds().Dy() {
			for x := range out.Bounds().Dx() {
				c := color.NRGBAModel.Convert(out.At(x, y)).(color.NRGBA)
				if c.R > 250 && c.G > 120 && c.G < 135 && c.B == c.G { // half of it over white
					n++
				}
			}
		}
		return n
	}
	assert.Greater(t, red(), 10_000)
	for format, has := range map[string]string{"svg": "<image", "pdf": "/Image"} {
		var w bytes.Buffer
		require.NoError(t, b.writeViews(&w, format))
		assert.Contains(t, w.String(), has)
	}
	require.NoError(t, b.doc.Edit("hide", "", func(j *job.Job) error { j.Photos[0].Hidden = true; return nil }))
	assert.Zero(t, red())
}
