package bench

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"axleloft/app/document"
	"axleloft/app/look"
	"axleloft/app/panel"
	"axleloft/app/start"
	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// open makes the window over the first demo, its figures worked out.
func open(t *testing.T, o Options) *Bench {
	t.Helper()
	a := test.NewTempApp(t)
	a.Preferences().SetBool(keyCaution, true)
	a.Preferences().SetBool(keyTries, true)
	b := build(a, o, atHome(), true)
	b.Start()
	t.Cleanup(func() {
		if b.doc.Dirty() {
			b.doc.Discard()
			return
		}
		b.doc.Close()
	})
	b.doc.Settle()
	return b
}

// atHome posts functions as a window does: one at a time, never while another touches what is shown. What the test's own goroutine posts runs at once;
// what open panels work out behind it and post is left out.
func atHome() func(func()) {
	home := goroutine()
	return func(f func()) {
		if goroutine() == home {
			f()
		}
	}
}

// goroutine is the head of the stack of the one that calls, which names it.
func goroutine() string {
	var head [32]byte
	words := strings.Fields(string(head[:runtime.Stack(head[:], false)]))
	return words[1]
}

// hold takes the Panhard rod's frame end in hand.
func hold(b *Bench) document.Pivot {
	p := document.Pivot{List: document.Links, Index: 2, End: document.FrameEnd}
	b.doc.Hold(p)
	return p
}

func TestLayoutFitsTheWindow(t *testing.T) {
	b := open(t, Options{})
	sizes := [][2]float32{{1366, 688}, {1242, 625}, {1093, 550}, {1920, 1080}}
	for _, s := range sizes {
		for _, held := range []bool{false, true} {
			for d := panel.NoDrawer; d <= panel.LastDrawer; d++ {
				if held {
					hold(b)
				} else {
					b.doc.LetGo()
				}
				b.show(d)
				b.win.Resize(fyne.NewSize(s[0], s[1]))
				b.root.Resize(fyne.NewSize(s[0], s[1]))
				type area struct {
					name           string
					x0, y0, x1, y1 float32
				}
				var list []area
				put := func(name string, o fyne.CanvasObject) {
					if o.Visible() {
						p, z := o.Position(), o.Size()
						list = append(list, area{name, p.X, p.Y, p.X + z.Width, p.Y + z.Height})
					}
				}
				put("top", b.top)
				put("tight", b.tight)
				put("foot", b.foot)
				put("side", b.views[0])
				put("rear", b.views[1])
				put("plan", b.views[2])
				put("pad", b.pad)
				put("card", b.card)
				put("readings", b.readings.Object)
				put("findings", b.findings)
				for i, a := range list {
					assert.True(t, a.x0 >= 0 && a.y0 >= 0 && a.x1 <= s[0]+0.1 && a.y1 <= s[1]+0.1, "%v: %+v", s, a)
					assert.True(t, a.x1 > a.x0 && a.y1 > a.y0, "%v: %+v has no room", s, a)
					for _, c := range list[i+1:] {
						apart := a.x1 <= c.x0+0.1 || c.x1 <= a.x0+0.1 || a.y1 <= c.y0+0.1 || c.y1 <= a.y0+0.1
						assert.True(t, apart, "%v held %v drawer %v: %+v over %+v", s, held, d, a, c)
					}
				}
				assert.Equal(t, held, b.card.Visible())
				assert.GreaterOrEqual(t, b.findings.Size().Height, float32(84), "%v held %v", s, held)
				assert.GreaterOrEqual(t, b.readings.Object.Size().Height, float32(80), "%v held %v", s, held)
				if x := b.drawers[d]; d != panel.NoDrawer {
					require.NotNil(t, x)
					assert.True(t, x.Visible())
					assert.False(t, b.views[2].Visible())
					assert.LessOrEqual(t, x.Position().Y+x.Size().Height, b.foot.Position().Y+0.1)
					between := b.layout.dividers[2]
					assert.LessOrEqual(t, between.Position().Y+between.Size().Height, x.Position().Y+0.1, "nothing lies over a drawer and takes its presses")
				}
			}
		}
	}
}

func TestReadingsShownByHeight(t *testing.T) {
	b := open(t, Options{})
	hold(b)
	for _, c := range []struct{ w, h, rows float32 }{{1366, 688, 6}, {1242, 625, 4}, {1093, 550, 2}} {
		b.root.Resize(fyne.NewSize(c.w, c.h))
		assert.Equal(t, c.rows*40, b.readings.Object.Size().Height, "%v", c)
	}
}

func TestActionsAreNamedOnce(t *testing.T) {
	b := open(t, Options{})
	ids, keys := map[string]bool{}, map[string]string{}
	for _, a := range b.actions {
		assert.False(t, ids[a.id], a.id)
		ids[a.id] = true
		assert.NotEmpty(t, a.label)
		require.NotNil(t, a.run, a.id)
		for _, k := range a.keys {
			name := k.ShortcutName()
			assert.Empty(t, keys[name], "%s and %s share %s", a.id, keys[name], name)
			keys[name] = a.id
			if c, ok := k.(*desktop.CustomShortcut); ok {
				alone := strings.HasPrefix(string(c.KeyName), "F") && len(c.KeyName) > 1 && c.Modifier == 0
				assert.True(t, alone || c.Modifier&^fyne.KeyModifierShift != 0, "%s: a shortcut needs more than Shift", a.id)
			}
		}
	}
	for _, id := range []string{"undo", "redo", "open", "save", "saveas", "start", "quit", "fit", "fitall", "home", "unit", "measure"} {
		assert.True(t, ids[id], id)
	}
}

func TestMenusHaveNoDeadEntry(t *testing.T) {
	b := open(t, Options{})
	require.NoError(t, b.doc.KeepTrial("rod lower"))
	var walk func(m *fyne.Menu)
	walk = func(m *fyne.Menu) {
		for _, i := range m.Items {
			require.NotNil(t, i)
			if i.IsSeparator || i.Disabled {
				continue
			}
			if i.ChildMenu != nil {
				assert.NotEmpty(t, i.ChildMenu.Items, i.Label)
				walk(i.ChildMenu)
				continue
			}
			assert.NotNil(t, i.Action, i.Label)
		}
	}
	for _, name := range []string{"Job", "Trial", "Export"} {
		walk(b.menu(name))
	}
}

func TestShortcutsUndoAndRedo(t *testing.T) {
	b := open(t, Options{})
	p := hold(b)
	require.NoError(t, b.doc.TypePivot(p, 2, "500"))
	c, ok := b.win.Canvas().(fyne.Shortcutable)
	require.True(t, ok)
	c.TypedShortcut(&fyne.ShortcutUndo{})
	assert.Equal(t, 545.0, b.doc.Current().Links[2].Frame[2])
	c.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyZ, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift})
	assert.Equal(t, 500.0, b.doc.Current().Links[2].Frame[2])
	c.TypedShortcut(&fyne.ShortcutUndo{})
	c.TypedShortcut(&fyne.ShortcutRedo{})
	assert.Equal(t, 500.0, b.doc.Current().Links[2].Frame[2])
}

func TestEscapeGoesFromTheInsideOut(t *testing.T) {
	b := open(t, Options{})
	hold(b)
	b.show(panel.GapsDrawer)
	b.say("Something", "to read")
	b.escape()
	assert.Empty(t, b.boxes)
	assert.Equal(t, panel.GapsDrawer, b.open)
	b.escape()
	assert.Equal(t, panel.NoDrawer, b.open)
	b.escape()
	_, held := b.doc.Held()
	assert.False(t, held)
}

func TestEscapeInAViewOrThePadClosesTheDrawerWhereNothingIsHeld(t *testing.T) {
	b := open(t, Options{})
	escape := &fyne.KeyEvent{Name: fyne.KeyEscape}
	for _, w := range []interface{ TypedKey(*fyne.KeyEvent) }{b.views[0], b.pad} {
		b.show(panel.GapsDrawer)
		w.TypedKey(escape)
		assert.Equal(t, panel.NoDrawer, b.open)
	}
	hold(b)
	b.show(panel.GapsDrawer)
	b.views[0].TypedKey(escape)
	_, held := b.doc.Held()
	assert.False(t, held)
	assert.Equal(t, panel.GapsDrawer, b.open)
	b.views[0].TypedKey(escape)
	assert.Equal(t, panel.NoDrawer, b.open)
}

func TestRefusedFileLeavesTheOpenJob(t *testing.T) {
	b := open(t, Options{})
	name := filepath.Join(t.TempDir(), "bad.axleloft")
	require.NoError(t, os.WriteFile(name, []byte(`{"format": "axleloft-job", "version": 1, "clearence": 3}`), 0o644))
	before := b.doc
	b.openNamed(name)
	assert.Same(t, before, b.doc)
	require.Len(t, b.boxes, 1)
	assert.Equal(t, "Not opened", b.boxes[0].title)
	b.escape()
	b.openNamed(filepath.Join(t.TempDir(), "none.axleloft"))
	require.Len(t, b.boxes, 1)
}

func TestFileOfTheCommandLine(t *testing.T) {
	name := filepath.Join(t.TempDir(), "tender.axleloft")
	require.NoError(t, os.WriteFile(name, assets.Demo("rescue-tender"), 0o644))
	b := open(t, Options{File: name})
	assert.Equal(t, name, b.doc.File())
	assert.False(t, b.doc.IsDemo())
	assert.True(t, b.tight.Start.Hidden)
	assert.Equal(t, []string{name}, b.app.Preferences().StringList(keyRecent))
	assert.Empty(t, b.boxes)
}

func TestDropTakesTheFirstJobAndTellsOfTheRest(t *testing.T) {
	b := open(t, Options{})
	dir := t.TempDir()
	name := filepath.Join(dir, "a.axleloft")
	require.NoError(t, os.WriteFile(name, assets.Demo("survey-wagon"), 0o644))
	b.onDropped(fyne.Position{}, []fyne.URI{storage.NewFileURI(filepath.Join(dir, "photo.jpg"))})
	require.Len(t, b.boxes, 1)
	b.escape()
	b.onDropped(fyne.Position{}, []fyne.URI{storage.NewFileURI(filepath.Join(dir, "photo.jpg")), storage.NewFileURI(name)})
	assert.Equal(t, name, b.doc.File())
	require.Len(t, b.boxes, 1)
}

func TestSavingADemoMakesAJobOfOnesOwn(t *testing.T) {
	b := open(t, Options{})
	dir := t.TempDir()
	b.app.Preferences().SetString(keyFolder, dir)
	assert.Equal(t, "my-orchard-sprayer.axleloft", b.freeName())
	name := filepath.Join(dir, "my.axleloft")
	w, err := storage.Writer(storage.NewFileURI(name))
	require.NoError(t, err)
	b.onSaveAs(w, nil, nil)
	assert.Empty(t, b.boxes)
	assert.False(t, b.doc.IsDemo())
	assert.True(t, b.tight.Start.Hidden)
	_, err = job.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, []string{name}, b.app.Preferences().StringList(keyRecent))
	b.onSaveAs(nil, nil, nil) // cancelled
	assert.Empty(t, b.boxes)
}

func TestChangesAreAskedAboutBeforeAnotherJob(t *testing.T) {
	b := open(t, Options{})
	require.NoError(t, b.doc.TypePivot(hold(b), 2, "500"))
	name := filepath.Join(t.TempDir(), "a.axleloft")
	require.NoError(t, os.WriteFile(name, assets.Demo("survey-wagon"), 0o644))
	before := b.doc
	b.openNamed(name)
	require.Len(t, b.boxes, 1)
	answer := func(label string) {
		x := b.boxes[len(b.boxes)-1]
		for _, btn := range x.button {
			if btn.Text() == label {
				test.Tap(btn)
				return
			}
		}
		t.Fatalf("no answer %q", label)
	}
	answer("Stay here")
	assert.Same(t, before, b.doc)
	assert.True(t, b.doc.Dirty())
	b.openNamed(name)
	answer("Let them go")
	assert.Equal(t, name, b.doc.File())
	assert.False(t, b.letGo)
}

func TestStartMyJob(t *testing.T) {
	b := open(t, Options{})
	for i := range start.Layouts() {
		require.NoError(t, b.makeJob("3400", "1700", "265/75R16", "100", "110", start.Layout(i), "mm"))
		b.doc.Settle()
		s, live := b.doc.Study()
		assert.True(t, live)
		assert.Empty(t, s.Refusal, start.Layouts()[i])
		assert.True(t, s.Bounded())
		assert.False(t, b.doc.IsDemo())
		assert.Equal(t, panel.MeasureDrawer, b.open)
	}
	for _, bad := range [][5]string{{"", "1700", "420", "100", "110"}, {"3400", "x", "420", "100", "110"}, {"3400", "1700", "999/", "100", "110"}, {"3400", "1700", "420", "-5", "110"}} {
		before := b.doc
		assert.Error(t, b.makeJob(bad[0], bad[1], bad[2], bad[3], bad[4], start.FourLink, "mm"))
		assert.Same(t, before, b.doc)
	}
}

func TestStartMyJobAsksAndIsLeftByEscape(t *testing.T) {
	b := open(t, Options{})
	b.startMyJob()
	require.Len(t, b.boxes, 1)
	assert.Len(t, b.boxes[0].fields, 5)
	before := b.doc
	b.escape()
	assert.Empty(t, b.boxes)
	assert.Same(t, before, b.doc)
}

func TestCautionIsSaidOnce(t *testing.T) {
	b := open(t, Options{})
	b.app.Preferences().SetBool(keyCaution, false)
	b.caution()
	require.Len(t, b.boxes, 1)
	b.escape()
	b.caution()
	assert.Empty(t, b.boxes)
}

func TestWorkOfAKilledProgramIsOffered(t *testing.T) {
	dir := t.TempDir()
	left := filepath.Join(dir, "job-0123456789abcdef.axleloft.autosave")
	require.NoError(t, os.WriteFile(left, assets.Demo("survey-wagon"), 0o600))
	b := open(t, Options{StateDir: dir})
	require.Len(t, b.boxes, 1)
	assert.Equal(t, "Work not saved last time", b.boxes[0].title)
	for _, btn := range b.boxes[0].button {
		if btn.Text() == "Bring it back" {
			test.Tap(btn)
		}
	}
	assert.Empty(t, b.boxes)
	assert.True(t, b.doc.Dirty())
	assert.False(t, b.doc.IsDemo())
	assert.Contains(t, b.win.Title(), "*")
	b.keepFirst(func() {}, nil)
	assert.Len(t, b.boxes, 1, "it is asked about before it goes")
	b.escape()
}

func TestExportsOfTheOpenJob(t *testing.T) {
	b := open(t, Options{})
	for _, format := range []string{"png", "svg", "pdf"} {
		var buf bytes.Buffer
		require.NoError(t, b.writeViews(&buf, format))
		assert.Greater(t, buf.Len(), 1000, format)
	}
	var buf bytes.Buffer
	require.NoError(t, b.writeNumbers(&buf, "sweep"))
	rows, err := csv.NewReader(&buf).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, "left_mm", rows[0][0])
	assert.Greater(t, len(rows), 10)
	buf.Reset()
	require.NoError(t, b.writeNumbers(&buf, "clearance"))
	rows, err = csv.NewReader(&buf).ReadAll()
	require.NoError(t, err)
	assert.Greater(t, len(rows), 100)
	buf.Reset()
	require.NoError(t, b.writeNumbers(&buf, "heights"))
	rows, err = csv.NewReader(&buf).ReadAll()
	require.NoError(t, err)
	v := b.doc.Current().Vehicle
	assert.Contains(t, strings.Join(rows[0], ","), "height")
	assert.GreaterOrEqual(t, len(rows)-1, len(v.Heights)*len(v.Loads))

	at := filepath.Join(t.TempDir(), "x.csv")
	b.exportTo(at, func(w io.Writer) error {
		_, err := w.Write([]byte("a,b\n"))
		return err
	})
	got, err := os.ReadFile(at)
	require.NoError(t, err)
	assert.Equal(t, "a,b\n", string(got))
}

func TestNothingIsWrittenFromOldFigures(t *testing.T) {
	b := open(t, Options{})
	require.NoError(t, b.doc.TypePivot(hold(b), 2, "500"))
	b.export("numbers", "csv", nil)
	require.Len(t, b.boxes, 1)
	assert.Equal(t, "Not written", b.boxes[0].title)
}

func TestStateForWhoeverLooksFromOutside(t *testing.T) {
	b := open(t, Options{})
	hold(b)
	data, err := json.Marshal(b.state())
	require.NoError(t, err)
	var got map[string]any
	require.NoError(t, json.Unmarshal(data, &got))
	assert.Equal(t, "Panhard rod, frame end", got["pivot"])
	assert.Equal(t, "ride", got["height"])
	assert.Equal(t, true, got["demo"])
	assert.True(t, strings.HasPrefix(got["tight"].(string), "HITS "))
	b.root.Resize(fyne.NewSize(1366, 688))
	for _, name := range []string{"button Undo", "button Go there", "button Charts", "height Ride", "load Empty", "rear pivot Panhard rod, frame end", "tyre left", "pad ride", "reading Pinion", "card Z"} {
		at, ok := b.where(name)
		assert.True(t, ok, name)
		assert.True(t, at.X > 0 && at.Y > 0 && at.X < 1366 && at.Y < 688, "%s at %v", name, at)
	}
	_, ok := b.where("button Nothing")
	assert.False(t, ok)
}

func TestGoThereSetsAxleAndViews(t *testing.T) {
	b := open(t, Options{})
	before := b.eye.Scale()
	b.run("gothere")
	p := b.doc.Position()
	assert.InDelta(t, 109.4, p.Pose.Left, 0.3)
	assert.Greater(t, b.eye.Scale(), before)
	b.run("home")
	assert.InDelta(t, before, b.eye.Scale(), 1e-9)
}

func TestGroundIsKept(t *testing.T) {
	b := open(t, Options{})
	t.Setenv("FYNE_THEME", "")
	for _, want := range []ink.Scheme{ink.Dark, ink.Bright, ink.Light} {
		b.run("ground")
		assert.Equal(t, schemes[want].key, b.app.Preferences().String(keyGround))
		assert.Equal(t, want, schemeChosen(b.app.Preferences()))
		assert.Equal(t, want, look.Scheme())
	}
	t.Setenv("FYNE_THEME", "bright")
	assert.Equal(t, ink.Bright, schemeChosen(b.app.Preferences()), "the variable comes first")
}

func TestFileWords(t *testing.T) {
	for in, want := range map[string]string{
		"Orchard sprayer: centre link": "orchard-sprayer", "My job": "my-job", "a/b\\c": "a-b-c", "": "", "Über Wagen (neu)": "über-wagen",
	} {
		assert.Equal(t, want, fileWords(in), in)
	}
}

func TestEscapeLeavesTheChoiceOfAFile(t *testing.T) {
	b := open(t, Options{})
	b.app.Preferences().SetString(keyFolder, t.TempDir())
	b.saveAs(nil)
	require.NotNil(t, b.choosing)
	e, ok := b.win.Canvas().Focused().(*panel.Entry)
	require.True(t, ok, "the name can be typed at once")
	assert.NotEmpty(t, e.Text)
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	assert.Nil(t, b.choosing)
	assert.Empty(t, b.doc.File())
}

func TestTheNameTypedIsWhereItIsSaved(t *testing.T) {
	dir := t.TempDir()
	b := open(t, Options{})
	b.app.Preferences().SetString(keyFolder, dir)
	b.saveAs(nil)
	e, ok := b.win.Canvas().Focused().(*panel.Entry)
	require.True(t, ok)
	e.SetText("mine.axleloft")
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	assert.Nil(t, b.choosing)
	assert.FileExists(t, filepath.Join(dir, "mine.axleloft"))
}

func TestAJobComesUpAsItWasLeft(t *testing.T) {
	b := open(t, Options{})
	file := filepath.Join(t.TempDir(), "tender"+document.Ending)
	j, err := job.Read(bytes.NewReader(assets.Demo("rescue-tender")))
	require.NoError(t, err)
	require.NoError(t, job.WriteFile(file, j))
	b.openNamed(file)
	require.Equal(t, file, b.doc.File())
	assert.Equal(t, "", b.doc.Trial())
	require.NoError(t, b.doc.SetTrial("Uppers raised 24"))
	require.NoError(t, b.doc.AddPencil(""))
	require.NoError(t, b.doc.AddPencil("Uppers raised 24"))
	require.NoError(t, b.openDemo("orchard-sprayer"))
	b.openNamed(file)
	assert.Equal(t, "Uppers raised 24", b.doc.Trial())
	p, ok := b.doc.Pencil()
	assert.True(t, ok)
	assert.Equal(t, "", p.Name)
	assert.Len(t, b.doc.Pencils(), 2)
	assert.False(t, b.doc.Dirty(), "how it stood is no change of the job")

	b.doc.ClearPencils()
	require.NoError(t, b.doc.SetTrial(""))
	require.NoError(t, b.openDemo("orchard-sprayer"))
	b.openNamed(file)
	assert.Equal(t, "", b.doc.Trial())
	_, ok = b.doc.Pencil()
	assert.False(t, ok)
}

func TestTheNumbersFileNamesItsLoad(t *testing.T) {
	b := open(t, Options{})
	b.doc.SetLoad(1)
	var labels []string
	for _, m := range b.exportMenu().Items {
		labels = append(labels, m.Label)
	}
	assert.Contains(t, labels, "Every height and load, CSV...")
	load := b.doc.Current().Vehicle.Loads[1].Name
	assert.Equal(t, "numbers-"+fileWords(load), fileWords(b.numbersName()))
}

// Everything as CSV, and the parts in the way as STL, go into a folder of their own; a second time into another; where nothing can be written it is said.
func TestIntoAFolder(t *testing.T) {
	b := open(t, Options{})
	at := t.TempDir()
	for range 2 {
		b.writeFolder(at, "tables")
		assert.Equal(t, "Written", b.boxes[len(b.boxes)-1].title)
		b.escape()
	}
	b.writeFolder(at, "solids")
	b.escape()
	base := filepath.Join(at, fileWords(b.doc.Name()))
	first, err := filepath.Glob(base + "-tables/*.csv")
	require.NoError(t, err)
	second, err := filepath.Glob(base + "-tables-2/*.csv")
	require.NoError(t, err)
	assert.Greater(t, len(first), 20)
	assert.Len(t, second, len(first))
	assert.FileExists(t, filepath.Join(base+"-tables", "inputs.csv"))
	solids, err := filepath.Glob(base + "-solids/*.stl")
	require.NoError(t, err)
	assert.NotEmpty(t, solids)

	file := filepath.Join(at, "a file")
	require.NoError(t, os.WriteFile(file, nil, 0o644))
	b.writeFolder(file, "tables")
	assert.Equal(t, "Not written", b.boxes[len(b.boxes)-1].title)
}
