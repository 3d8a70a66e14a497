package panel

import (
	"strings"
	"testing"
	"time"

	"axleloft/app/document"
	"axleloft/app/study"
	"axleloft/app/view"
	"axleloft/geometry/job"
	"axleloft/geometry/vessel"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// worked is a host whose work behind the window comes back when the test waits for it.
type worked struct {
	*noted
	post  posted
	laid  map[string][]view.Laid
	boxes [][2]r3.Vec
	dip   []vessel.Level
	args  []string
}

func openWorked(t *testing.T, demo string) *worked {
	t.Helper()
	w := &worked{noted: open(t, demo), post: make(posted, 1000), laid: map[string][]view.Laid{}}
	w.h.Post = w.post.post
	w.h.Lay = func(panel string, list []view.Laid) { w.laid[panel] = list }
	w.h.Frame = func(lo, hi r3.Vec) { w.boxes = append(w.boxes, [2]r3.Vec{lo, hi}) }
	w.h.SaveDip = func(_ string, levels []vessel.Level) { w.dip = levels }
	w.h.SaveNumbers = func(_, _ string, args ...string) { w.args = args }
	return w
}

// drawer opens one and waits till it says no more that it is working.
func (w *worked) drawer(t *testing.T, d Drawer) *DrawerFrame {
	t.Helper()
	w.opened = d
	f := NewDrawer(w.h, d)
	win := test.NewTempWindow(t, f)
	win.Resize(fyne.NewSize(960, 340))
	f.Update(^document.Change(0))
	w.wait(t, f)
	return f
}

func (w *worked) wait(t *testing.T, f *DrawerFrame) {
	t.Helper()
	end := time.After(time.Minute)
	for {
		busy := false
		switch b := f.in.(type) {
		case *tank:
			busy = b.found.busy || b.dips.busy
		case *lowest:
			busy = b.found.busy
		case *tyres:
			busy = b.found.busy
		case *holes:
			busy = b.found.busy
		case *trials:
			busy = b.found.busy
		case *toMeasure:
			busy = b.found.busy
		case *room:
			busy = b.found.busy || b.solid.busy
		}
		if !busy {
			return
		}
		select {
		case g := <-w.post:
			g()
		case <-end:
			t.Fatal("it goes on and on")
		}
	}
}

// line finds a line of a drawer by its beginning.
func line(t *testing.T, f *DrawerFrame, begin string) string {
	t.Helper()
	for _, l := range f.Lines() {
		if strings.HasPrefix(l, begin) {
			return l
		}
	}
	t.Fatalf("no line begins with %q in\n%s", begin, strings.Join(f.Lines(), "\n"))
	return ""
}

// The sprayer's tank panel opens on the shelf that is hit, with the cut that loses least in words and in the views.
func TestTankPanelOfTheSprayer(t *testing.T) {
	w := openWorked(t, "orchard-sprayer")
	f := w.drawer(t, TankDrawer)
	k := f.in.(*tank)
	for _, l := range f.Lines() {
		refuseWords(t, l)
	}
	assert.Equal(t, "Tank shelf: 28.8 L (7.6 US gal, 6.3 imperial gal) gross, from its outside shape.", line(t, f, "Tank shelf"))
	assert.Equal(t, "Panhard rod hits by 29 mm (25 mm wanted) at 109 mm of bump.", line(t, f, "Panhard rod"))
	assert.Contains(t, line(t, f, "The keep-out"), "proved over the whole range, between positions too")
	line(t, f, "It is the gap that counts, not the litres")
	line(t, f, "Plan a physical stop or guard.")
	best := k.found.got.choices[0]
	assert.Equal(t, best.lead+" "+best.words, line(t, f, "Loses"))
	assert.Contains(t, line(t, f, "With the cut shown"), study.Litres(best.litres)+" L")
	cuts, kept := 0, 0
	for _, l := range w.laid["tank"] {
		switch l.Look {
		case view.CutOff:
			cuts++
			assert.NotEmpty(t, l.Bodies)
		case view.KeptOut:
			kept++
			assert.True(t, l.Only)
		}
	}
	assert.Equal(t, len(best.cuts), cuts)
	assert.Equal(t, 3, kept, "a section in each view")

	// Another cut by a press: in the views and in the dip table.
	require.Greater(t, len(k.found.got.choices), 1)
	last := len(k.found.got.choices) - 1
	o := f.Named(k.found.got.choices[last].lead + " " + k.found.got.choices[last].words)
	require.NotNil(t, o)
	test.Tap(o.(*pressLine))
	w.wait(t, f)
	assert.Equal(t, last, k.shown)
	assert.Contains(t, w.laid["tank"][0].Name, k.found.got.choices[last].cuts[0].Words)
	levels := k.dips.got.levels
	full := levels[len(levels)-1]
	assert.InDelta(t, 28.8, full.Before, 0.05)
	assert.InDelta(t, full.Before-k.found.got.choices[last].litres, full.After, 1e-6)
	assert.Equal(t, 5.0, levels[1].Depth)

	// The line of what comes near goes there.
	test.Tap(f.Named("Panhard rod").(*pressLine))
	assert.InDelta(t, 109.4, w.went[0], 0.2)

	f.Closed()
	assert.Empty(t, w.laid["tank"])
}

// A tilt that is typed makes another dip table; one that means nothing is refused in a sentence, and the table stays.
func TestTankTilt(t *testing.T) {
	w := openWorked(t, "orchard-sprayer")
	f := w.drawer(t, TankDrawer)
	k := f.in.(*tank)
	flat := k.dips.got.levels[2].Before
	assert.Contains(t, k.table.stick.Text(), "Dip stick in the middle")
	e := f.Named("Nose down").(*Entry)
	e.SetText("8")
	e.OnSubmitted("8")
	w.wait(t, f)
	assert.Equal(t, [2]float64{0, 8}, k.table.tilt)
	assert.NotEqual(t, flat, k.dips.got.levels[2].Before)
	e.SetText("80")
	e.OnSubmitted("80")
	w.wait(t, f)
	assert.Equal(t, [2]float64{0, 8}, k.table.tilt)
	assert.Contains(t, k.table.refused.Text(), "45 deg")
	assert.True(t, k.table.refused.Visible())
	e.SetText("0,5")
	e.OnSubmitted("0,5")
	w.wait(t, f)
	assert.Equal(t, 0.5, k.table.tilt[1])
	assert.False(t, k.table.refused.Visible())

	// What is saved is what is shown.
	for _, i := range k.saveMenu().Items {
		i.Action()
	}
	assert.Equal(t, k.dips.got.levels, w.dip)
	assert.Equal(t, []string{"tank", "--vessel", "Tank shelf", "--tilt-x=0", "--tilt-y=0.5"}, w.args)
}

// A tank nothing comes near says so; what is there goes grey when the job changes and comes back with the new figures.
func TestTankPanelFollowsTheJob(t *testing.T) {
	w := openWorked(t, "orchard-sprayer")
	f := w.drawer(t, TankDrawer)
	k := f.in.(*tank)
	k.choose("Rear tank")
	w.wait(t, f)
	line(t, f, "Nothing that moves comes nearer to it than the gap wanted")
	line(t, f, "Nothing has to be cut.")
	k.choose("Tank shelf")
	w.wait(t, f)
	require.NoError(t, w.d.AddPencil(document.AsItWas))
	require.NoError(t, w.d.Edit("lower the shelf's top", "", func(j *job.Job) error {
		for i := range j.Envelopes {
			if j.Envelopes[i].Name == "Tank shelf" {
				j.Envelopes[i].Max[2] -= 20
			}
		}
		return nil
	}))
	f.Update(document.JobChanged | document.StudyChanged)
	line(t, f, "Was: Tank shelf: 28.8 L")
	assert.Empty(t, w.laid["tank"], "an old cut is not left looking current")
	w.d.Settle()
	f.Update(document.StudyChanged)
	w.wait(t, f)
	assert.Contains(t, line(t, f, "Tank shelf"), "It was 28.8 L in the pencil line (as it was): 3.0 L less now.")
	// turned into no tank
	require.NoError(t, w.d.Edit("no tanks", "", func(j *job.Job) error {
		for i := range j.Envelopes {
			j.Envelopes[i].Vessel = false
		}
		return nil
	}))
	w.d.Settle()
	f.Update(^document.Change(0))
	line(t, f, "This job has no tank.")
}

// A bottle is told of like a box; another cut that was chosen stays chosen while the job changes.
func TestTankOfAnotherShape(t *testing.T) {
	w := openWorked(t, "orchard-sprayer")
	outside := 150.0
	require.NoError(t, w.d.Edit("a bottle", "", func(j *job.Job) error {
		for i := range j.Envelopes {
			if j.Envelopes[i].Name == "Tank shelf" {
				j.Envelopes[i] = job.Envelope{Name: "Tank shelf", Kind: "tube", Path: []job.Point{{-230, -300, 660}, {-230, 250, 650}}, Outside: &outside, Vessel: true}
			}
		}
		return nil
	}))
	w.d.Settle()
	f := w.drawer(t, TankDrawer)
	k := f.in.(*tank)
	assert.Contains(t, line(t, f, "Tank shelf"), " L (")
	require.Greater(t, len(k.found.got.choices), 1)
	require.NotEmpty(t, k.dips.got.levels)
	other := k.found.got.choices[1].kind()
	k.show(1)
	w.wait(t, f)
	require.NoError(t, w.d.Edit("a little higher", "", func(j *job.Job) error {
		for i := range j.Envelopes {
			if j.Envelopes[i].Name == "Tank shelf" {
				j.Envelopes[i].Path[0][2] += 2
			}
		}
		return nil
	}))
	w.d.Settle()
	f.Update(document.JobChanged | document.StudyChanged)
	w.wait(t, f)
	assert.Equal(t, other, k.found.got.choices[k.shown].kind())
}

// The list of what is in the way opens a tank's panel by its button and by its litres; a finding about a tank does by its word.
func TestWaysToATank(t *testing.T) {
	w := openWorked(t, "orchard-sprayer")
	opened := ""
	w.h.ShowTank = func(name string) { opened = name }
	way := w.drawer(t, WayDrawer)
	for i := range w.d.Current().Envelopes {
		w.d.Select(document.Part{List: document.Envelopes, Index: i})
		way.Update(document.SelectionChanged)
		e := &w.d.Current().Envelopes[i]
		assert.Equal(t, e.Vessel, way.Named("Tank").Visible(), e.Name)
		if !e.Vessel {
			continue
		}
		opened = ""
		way.Named("Tank").(fyne.Tappable).Tapped(nil)
		assert.Equal(t, e.Name, opened)
		opened = ""
		way.Named("litres").(fyne.Tappable).Tapped(nil)
		assert.Equal(t, e.Name, opened)
	}
	s, _ := w.d.Study()
	for i := range s.Findings {
		r := newFindingRow(w.h)
		r.set(&s.Findings[i], true)
		if s.Findings[i].What == "Panhard rod / tank shelf" {
			opened = ""
			r.litres.Tapped(nil)
			assert.Equal(t, "Tank shelf", opened)
		} else if s.Findings[i].Pair < 0 {
			assert.False(t, r.litres.Visible())
		}
	}
}

// What is given up stays so till it is asked for again.
func TestTankGivenUp(t *testing.T) {
	w := openWorked(t, "orchard-sprayer")
	w.opened = TankDrawer
	f := NewDrawer(w.h, TankDrawer)
	k := f.in.(*tank)
	f.Update(^document.Change(0))
	require.True(t, k.found.busy)
	k.top.stop.OnTapped()
	assert.Equal(t, "given up", k.top.note.Text())
	assert.Equal(t, "Work out", k.top.stop.Text())
	line(t, f, "Given up.")
	k.top.stop.OnTapped()
	w.wait(t, f)
	line(t, f, "Loses")
}

// What is being worked out when a hand begins to move something is dropped, and begun again when that has settled.
func TestTankDroppedWhileSomethingMoves(t *testing.T) {
	w := openWorked(t, "orchard-sprayer")
	w.opened = TankDrawer
	f := NewDrawer(w.h, TankDrawer)
	k := f.in.(*tank)
	f.Update(^document.Change(0))
	require.True(t, k.found.busy)
	require.NoError(t, w.d.Edit("lower the shelf's top", "", func(j *job.Job) error {
		for i := range j.Envelopes {
			if j.Envelopes[i].Name == "Tank shelf" {
				j.Envelopes[i].Max[2] -= 20
			}
		}
		return nil
	}))
	f.Update(document.JobChanged | document.StudyChanged)
	assert.False(t, k.found.busy)
	w.d.Settle()
	f.Update(document.StudyChanged)
	w.wait(t, f)
	line(t, f, "Tank shelf: 25.8 L")
}

// In inches the sizes of a cut stay whole mm, with inches beside them.
func TestTankInInches(t *testing.T) {
	w := openWorked(t, "orchard-sprayer")
	w.d.SetUnit("in")
	w.d.Settle()
	f := w.drawer(t, TankDrawer)
	assert.Regexp(t, `\d+ mm \(\d+\.\d\d in\) from the `, line(t, f, "Loses"))
	assert.Contains(t, line(t, f, "Panhard rod"), "1 1/8 in")
	assert.Contains(t, f.Lines(), "0.20 | 0.8 | "+study.Litres(f.in.(*tank).dips.got.levels[1].After))
}

// Lowest points: a press on a figure goes to the position and the place, and its height is drawn there.
func TestLowestPanel(t *testing.T) {
	w := openWorked(t, "orchard-sprayer")
	f := w.drawer(t, LowestDrawer)
	b := f.in.(*lowest)
	for _, l := range f.Lines() {
		refuseWords(t, l)
	}
	g := b.table
	require.NotNil(t, g.t)
	assert.Equal(t, "whole range", g.t.Heights[0])
	assert.Equal(t, "Ramp angle", g.t.Rows[0].Title)
	first := -1
	for i := range g.t.Rows {
		if g.t.Rows[i].Unit == "mm" {
			first = i
			break
		}
	}
	require.GreaterOrEqual(t, first, 0)
	g.choose(first)
	g.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	low := b.found.got.t.Parts[0].Least[0]
	assert.Equal(t, [2]float64{low.Left, low.Right}, w.went)
	require.Len(t, w.boxes, 1)
	require.Len(t, w.laid["lowest"], 1)
	assert.InDelta(t, low.Height, r3.Norm(r3.Sub(w.laid["lowest"][0].Span[1], w.laid["lowest"][0].Span[0])), 1e-9)
	assert.Contains(t, b.words.Text(), "above the ground")
	g.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	assert.Equal(t, 1, g.col)

	// An overhang typed here gives the departure angle.
	chosen := g.row().Title
	e := f.Named("overhang.rear").(*Entry)
	e.SetText("1250, 640")
	e.OnSubmitted(e.Text)
	require.NotNil(t, w.d.Current().Vehicle.Overhang)
	f.Update(document.JobChanged | document.StudyChanged)
	assert.True(t, g.stale)
	w.d.Settle()
	f.Update(document.StudyChanged)
	w.wait(t, f)
	assert.False(t, g.stale)
	assert.Equal(t, "Departure angle", g.t.Rows[0].Title)
	assert.Equal(t, chosen, g.row().Title, "the row that is new does not take the choice")
	assert.Contains(t, line(t, f, "Departure angle, deg"), " | ")
	f.Closed()
	assert.Empty(t, w.laid["lowest"])
}

// Another tyre: what it touches, drawn round the present one; nothing of the job changes.
func TestTyresPanel(t *testing.T) {
	w := openWorked(t, "orchard-sprayer")
	f := w.drawer(t, TyresDrawer)
	b := f.in.(*tyres)
	for _, l := range f.Lines() {
		refuseWords(t, l)
	}
	before := w.d.Current()
	assert.Contains(t, line(t, f, "A tyre 13 mm larger in radius"), "the axle and its pivots stay")
	assert.Contains(t, line(t, f, "Tyre left / wheel arch left"), "40 mm wanted")
	require.Len(t, w.laid["tyres"], 1)
	assert.Equal(t, study.TyreSize{Radius: 13, Width: 10}, *w.laid["tyres"][0].Tyre)

	e := f.Named("Larger in radius").(*Entry)
	e.SetText("60")
	e.OnSubmitted("60")
	w.wait(t, f)
	assert.Contains(t, line(t, f, "Tyre left / wheel arch left"), "hits, ")
	assert.Equal(t, 60.0, w.laid["tyres"][0].Tyre.Radius)
	test.Tap(f.Named("Tyre left / wheel arch left").(*pressLine))
	assert.Greater(t, w.went[0], 100.0)

	e.SetText("9000")
	e.OnSubmitted("9000")
	assert.Equal(t, "Give from −150 mm to 400 mm.", b.refused.Text())
	assert.Equal(t, 60.0, b.size.Radius)

	test.Tap(f.Named("Present tyre").(fyne.Tappable).(interface {
		fyne.CanvasObject
		fyne.Tappable
	}))
	w.wait(t, f)
	assert.Empty(t, w.laid["tyres"])
	line(t, f, "The present tyre")
	assert.Same(t, before, w.d.Current(), "nothing of the job changes")
	f.Closed()
}

// A tyre without a width is told in a sentence.
func TestTyresPanelWithoutWidth(t *testing.T) {
	w := openWorked(t, "orchard-sprayer")
	require.NoError(t, w.d.Edit("no width", "", func(j *job.Job) error { j.Vehicle.Tyre.Width = nil; return nil }))
	w.d.Settle()
	f := w.drawer(t, TyresDrawer)
	line(t, f, "The tyre has no width, so it is not drawn.")
}
