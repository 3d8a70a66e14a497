package main

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"syscall"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const (
	wide, tall = 1366, 688 // the laptop the bench is laid out for
	screenTall = 768
)

// A person who has never seen the program starts it and does what the screen offers.
func TestWindowFirstFiveMinutes(t *testing.T) {
	w := newDesk(t, wide, screenTall, "1", "light").open(wide, tall)
	defer w.quiet(t)

	// It opens on the sprayer, says so, and says what is wrong.
	w.caution()
	s := w.settled()
	require.True(t, s.Demo)
	assert.Contains(t, s.Title, "Orchard sprayer")
	assert.Contains(t, s.Tight, "HITS Panhard rod / tank shelf 29 mm")
	assert.Contains(t, s.Tight, "78 of 109 mm")
	assert.NotEmpty(t, having(s.Findings, "Panhard rod hits the tank shelf", "29 mm in"))
	assert.InDelta(t, 2.5, s.number("Pinion"), 0.05)
	assert.InDelta(t, 74, s.number("Anti-squat"), 0.6)
	w.picture("first-screen")
	far := s.Scale

	// Go there sets the axle at full bump and brings the views to the place.
	w.press("button Go there")
	s = w.shows("the axle goes to full bump", func(s state) bool { return math.Abs(s.Left-109.36) < 1 && math.Abs(s.Right-109.36) < 1 })
	s = w.shows("the views come near", func(s state) bool { return s.Scale != far })
	assert.Contains(t, s.Scale, "1 px is 1.0 mm")
	w.picture("go-there")
	w.press("button Fit")
	w.shows("the views go back", func(s state) bool { return s.Scale == far })
	w.press("pad Ride")
	w.shows("the axle is at ride height", func(s state) bool { return s.Left == 0 && s.Right == 0 && s.Height == "ride" })

	// One wheel is pulled up; the other stays.
	w.drag("rear tyre left", 0, -20)
	s = w.shows("the left wheel goes up", func(s state) bool { return s.Left > 50 })
	assert.InDelta(t, 0, s.Right, 0.5)
	assert.Less(t, s.Left, 140.0)
	assert.Empty(t, s.Undo, "moving the axle is no change of the job")
	w.press("height Ride")
	w.shows("the axle is at ride height again", func(s state) bool { return s.Left == 0 && s.Right == 0 })

	// The rod is lowered till the hit goes; what it costs is seen in the readings.
	before := w.settled()
	for _, end := range []string{"frame end", "axle end"} {
		name := "Panhard rod, " + end
		w.drag("rear pivot "+name, 0, 14)
		s = w.shows("the rod's "+end+" went down", func(s state) bool { return s.Pivot == name && s.Undo == "move "+name })
	}
	after := w.settled()
	assert.NotContains(t, after.Tight, "HITS Panhard rod")
	assert.Empty(t, having(after.Findings, "hits the tank shelf"))
	assert.NotEqual(t, before.reading("Roll centre"), after.reading("Roll centre"))
	assert.Less(t, after.number("Roll centre"), before.number("Roll centre"))
	assert.True(t, after.Dirty)
	w.picture("rod-lowered")

	// Undo by key and by button, and redo.
	w.press("card Done")
	w.shows("nothing is held", func(s state) bool { return s.Pivot == "" })
	w.keys("ctrl+z")
	w.shows("one step back", func(s state) bool { return s.Undo != after.Undo && s.Redo == after.Undo })
	for w.state().Undo != "" {
		was := w.state()
		w.press("button Undo")
		w.shows("one more step back", func(s state) bool { return !s.sameStep(was) })
	}
	s = w.settled()
	assert.Contains(t, s.Tight, "HITS Panhard rod / tank shelf 29 mm")
	assert.Equal(t, before.Readings, s.Readings)
	assert.False(t, s.Dirty)
	for range 20 {
		if s = w.state(); s.Redo == "" {
			break
		}
		was := s
		w.keys("ctrl+y")
		w.shows("one step forward", func(s state) bool { return !s.sameStep(was) })
	}
	s = w.settled()
	assert.Equal(t, after.Tight, s.Tight)
	assert.Equal(t, after.Readings, s.Readings)
}

// quiet checks at the end that the program said nothing and still stands.
func (w *window) quiet(t *testing.T) {
	if t.Failed() {
		return
	}
	w.state()
	w.quit(syscall.SIGKILL)
	said := favourites.ReplaceAllString(w.said.String(), "")
	assert.Empty(t, said)
}

// favourites is what the toolkit says of a home without the usual folders whenever it opens a file dialog.
var favourites = regexp.MustCompile(`(?m)^.*Getting favorite locations\n.*Cause: .*\n.*At: .*\n`)

// A pivot is dragged, read, undone, done again, saved, and found in the file and in the window that opens it.
func TestWindowDragUndoSaveReopen(t *testing.T) {
	d := newDesk(t, wide, screenTall, "1", "light")
	file := filepath.Join(d.home, "tender.axleloft")
	require.NoError(t, os.WriteFile(file, assets.Demo("rescue-tender"), 0o600))
	w := d.open(wide, tall, file)
	w.caution()
	before := w.settled()
	require.Equal(t, file, before.File)
	require.Equal(t, "full load", before.Load)
	require.InDelta(t, 87, before.number("Anti-squat"), 0.5)
	gap := func(s state) string { return having(s.Lines, "upper left", "side tank") }
	w.press("button All gaps")
	open := w.shows("all gaps are listed", func(s state) bool { return gap(s) != "" })
	assert.Contains(t, gap(open), "10 mm")
	w.picture("all-gaps")
	w.keys("ctrl+3")
	w.shows("the list closes", func(s state) bool { return s.Drawer == "" })

	// The upper links' frame pivots go up by 24: by the mouse first, the last of it by the keys.
	const name = "Upper left, frame end"
	w.drag("side pivot "+name, 0, -4)
	s := w.shows("the pivot is dragged", func(s state) bool { return s.Pivot != "" && s.Dirty })
	require.Contains(t, s.Pivot, "Upper")
	require.Contains(t, s.Pivot, "frame end")
	w.keys("Left", "Right")
	for range 100 {
		s = w.state()
		left := 634 - s.At[2]
		if math.Abs(left) < 1e-9 {
			break
		}
		key, by := "Up", 1.0
		if left < 0 {
			key, by = "Down", -1
		}
		z := s.At[2]
		w.keys(key)
		w.shows("a press of a key moves it by 1 mm", func(s state) bool { return math.Abs(s.At[2]-z-by) < 1e-9 })
	}
	s = w.settled()
	assert.InDelta(t, 634, s.At[2], 1e-9)
	assert.InDelta(t, 72, s.number("Anti-squat"), 1)
	w.picture("pivot-held")
	w.press("button All gaps")
	raised := w.shows("all gaps are listed again", func(s state) bool { return gap(s) != "" && s.Full })
	assert.Regexp(t, `\b2[4-6] mm`, gap(raised))
	w.press("drawer Close")
	w.shows("the list closes by its button", func(s state) bool { return s.Drawer == "" })

	// Undo brings everything back.
	steps := 0
	for w.state().Undo != "" && steps < 100 {
		was := w.state()
		w.press("button Undo")
		w.shows("a step back", func(s state) bool { return !s.sameStep(was) })
		steps++
	}
	s = w.settled()
	assert.False(t, s.Dirty)
	assert.Equal(t, before.Readings, s.Readings)
	for range steps {
		was := w.state()
		w.keys("ctrl+shift+z")
		w.shows("a step forward", func(s state) bool { return !s.sameStep(was) })
	}
	s = w.settled()
	require.InDelta(t, 72, s.number("Anti-squat"), 1)

	// Saved, read by the reader, opened again.
	w.keys("ctrl+s")
	w.shows("the job is saved", func(s state) bool { return !s.Dirty })
	f, err := os.Open(file)
	require.NoError(t, err)
	defer f.Close()
	j, err := job.Read(f)
	require.NoError(t, err)
	found := false
	for i := range j.Links {
		if j.Links[i].Name == "Upper" {
			found = true
			assert.InDelta(t, 634, j.Links[i].Frame[2], 1e-9)
			assert.InDelta(t, 640, j.Links[i].Frame[0], 1e-9)
		}
	}
	assert.True(t, found)
	w.quiet(t)
	again := d.open(wide, tall, file)
	got := again.settled()
	assert.Empty(t, got.Asked)
	assert.Equal(t, s.Readings, got.Readings)
	assert.Equal(t, s.Findings, got.Findings)
	assert.Equal(t, s.Tight, got.Tight)
	again.quiet(t)
}

// The bench works on a small dark screen and where everything is drawn twice as large.
func TestWindowSmallDarkAndLarge(t *testing.T) {
	for _, x := range []struct {
		name, scale, theme string
		w, h               int
	}{
		{"small-dark", "1", "dark", 1093, 550},
		{"large", "2", "light", 2732, 1376},
	} {
		t.Run(x.name, func(t *testing.T) {
			w := newDesk(t, x.w+20, x.h+60, x.scale, x.theme).open(x.w, x.h)
			w.caution()
			s := w.settled()
			assert.Equal(t, x.theme == "dark", s.Dark)
			w.picture(x.name + "-ride")
			w.press("button Go there")
			w.shows("the axle goes to full bump", func(s state) bool { return math.Abs(s.Left-109.36) < 1 })
			w.press("button Charts")
			w.shows("charts are open", func(s state) bool { return s.Drawer == "Charts" && len(s.Lines) == 2 })
			w.picture(x.name + "-charts")
			w.keys("Escape", "Escape")
			w.shows("charts are closed", func(s state) bool { return s.Drawer == "" })
			w.drag("pad dot", 0, int(20*w.factor()))
			w.shows("the dot comes down", func(s state) bool { return s.Left < 100 && s.Right < 100 })
			w.quiet(t)
		})
	}
}
