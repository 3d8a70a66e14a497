package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// readJob reads a job file that must be whole.
func readJob(t *testing.T, name string) *job.Job {
	t.Helper()
	f, err := os.Open(name)
	require.NoError(t, err)
	defer f.Close()
	j, err := job.Read(f)
	require.NoError(t, err)
	return j
}

// Six numbers make a job, a tank is put in the way, and what it hits is said.
func TestWindowStartMyJob(t *testing.T) {
	d := newDesk(t, wide, screenTall, "1", "light")
	w := d.open(wide, tall)
	w.caution()
	w.settled()
	w.press("button Start my job")
	w.shows("the six numbers are asked", func(s state) bool { return len(s.Asked) == 1 && s.Asked[0] == "Start my job" })
	for i, text := range []string{"3550", "1700", "420", "100", "110"} {
		w.press("ask " + string(rune('0'+i)))
		w.write(text)
	}
	w.picture("start-my-job")
	w.press("answer Draw it")
	s := w.shows("the job is there", func(s state) bool { return len(s.Asked) == 0 && !s.Demo && s.Drawer == "What to measure next" })
	s = w.settled()
	assert.Contains(t, s.Measured, "measured 0 of ")
	assert.NotEmpty(t, having(s.Lines, "measure these three next"))
	assert.Equal(t, "3550 mm as the axle stands", s.reading("Wheelbase"))
	assert.Empty(t, having(s.Findings, "hits"))
	assert.False(t, s.number("Roll centre") != s.number("Roll centre"), "a figure is missing: %s", s.Readings)

	w.press("button In the way")
	w.shows("the parts in the way are listed", func(s state) bool { return s.Drawer == "In the way" && len(s.Lines) > 0 })
	w.choose("drawer Add", "Tank")
	w.shows("the tank is there", func(s state) bool { return having(s.Lines, "tank") != "" && s.Undo == "add tank" })
	w.press("field X to")
	w.write("60")
	w.keys("Return")
	s = w.shows("the tank hits something", func(s state) bool { return s.Full && strings.HasPrefix(s.Tight, "HITS") })
	assert.Contains(t, strings.ToLower(s.Tight), "tank")
	assert.NotEmpty(t, having(s.Findings, "hits", "tank"))
	w.picture("tank-hits")
	require.Equal(t, "Tank, x to", s.Undo)
	w.keys("ctrl+z") // the field has the focus and nothing is being typed: the key is the window's
	w.shows("the tank goes back", func(s state) bool { return s.Redo == "Tank, x to" && s.Full && !strings.HasPrefix(s.Tight, "HITS") })
	w.keys("ctrl+y")
	w.shows("the tank hits again", func(s state) bool { return s.Full && strings.HasPrefix(s.Tight, "HITS") })

	w.keys("ctrl+shift+s")
	w.saveIn("mine.axleloft")
	file := filepath.Join(d.home, "mine.axleloft")
	s = w.shows("the job is saved", func(s state) bool { return !s.Dirty && s.File == file })
	j := readJob(t, file)
	require.NotEmpty(t, j.Envelopes)
	last := j.Envelopes[len(j.Envelopes)-1]
	assert.Equal(t, "Tank", last.Name)
	require.NotNil(t, last.Max)
	assert.InDelta(t, 60, last.Max[0], 1e-9)
	assert.InDelta(t, 3550, j.Vehicle.Wheelbase, 1e-9)
	w.quiet(t)
}

// Work of a program that was killed is offered at the next start.
func TestWindowRecoversWhatAKillLeft(t *testing.T) {
	d := newDesk(t, wide, screenTall, "1", "light")
	file := filepath.Join(d.home, "tender.axleloft")
	whole := assets.Demo("rescue-tender")
	require.NoError(t, os.WriteFile(file, whole, 0o600))
	w := d.open(wide, tall, file)
	w.caution()
	w.settled()
	w.drag("plan pivot Upper left, frame end", 10, 0)
	s := w.shows("the pivot is dragged", func(s state) bool { return s.Pivot == "Upper left, frame end" && s.Dirty && len(s.At) == 3 })
	s = w.settled()
	require.Greater(t, s.At[0], 640.0)
	left := func() string {
		for _, pattern := range []string{filepath.Join(d.home, ".*.autosave"), filepath.Join(d.home, ".config", "axleloft", "unsaved", "*.autosave")} {
			if names, _ := filepath.Glob(pattern); len(names) > 0 {
				return names[0]
			}
		}
		return ""
	}
	w.until("the work is kept aside", func() bool {
		name := left()
		return name != "" && readsTo(name, s.At[0])
	})
	w.quit(syscall.SIGKILL)
	now, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, string(whole), string(now), "the job's file is as it was")

	w = d.open(wide, tall, file)
	got := w.shows("the work is offered", func(s state) bool { return len(s.Asked) == 1 && s.Asked[0] == "Work not saved last time" })
	assert.Contains(t, got.Told[0], "Bring it back?")
	w.picture("work-not-saved")
	w.press("answer Bring it back")
	got = w.shows("the work is back", func(s state) bool { return len(s.Asked) == 0 && s.Dirty })
	got = w.settled()
	assert.Equal(t, s.Readings, got.Readings)
	assert.Equal(t, file, got.File)
	w.press("plan pivot Upper left, frame end")
	got = w.shows("the pivot is held", func(s state) bool { return len(s.At) == 3 })
	assert.InDelta(t, s.At[0], got.At[0], 1e-9)
	w.quiet(t)
}

// readsTo reports whether a file is a whole job whose first upper pivot lies at the given X.
func readsTo(name string, x float64) bool {
	data, err := os.ReadFile(name)
	if err != nil {
		return false
	}
	j, err := job.Read(bytes.NewReader(data))
	if err != nil {
		return false
	}
	for i := range j.Links {
		if j.Links[i].Name == "Upper" {
			return j.Links[i].Frame[0] == x
		}
	}
	return false
}

// A file that cannot be read is refused in a sentence, and the window goes on.
func TestWindowRefusesABrokenFile(t *testing.T) {
	d := newDesk(t, wide, screenTall, "1", "light")
	file := filepath.Join(d.home, "broken.axleloft")
	broken := string(assets.Demo("rescue-tender"))
	broken = broken[:len(broken)/2]
	require.NoError(t, os.WriteFile(file, []byte(broken), 0o600))
	w := d.open(wide, tall, file)
	s := w.shows("the refusal is said", func(s state) bool { return having(s.Told, "broken.axleloft") != "" })
	said := having(s.Told, "broken.axleloft")
	assert.NotContains(t, said, "panic")
	assert.Regexp(t, `(?i)line \d+`, said)
	w.picture("refused")
	for range s.Asked {
		n := len(w.state().Asked)
		w.keys("Escape")
		w.shows("one thing told is put away", func(s state) bool { return len(s.Asked) < n })
	}
	s = w.settled()
	assert.True(t, s.Demo, "the demo stands open instead")
	w.drag("pad dot", 0, -30)
	w.shows("the axle moves", func(s state) bool { return s.Left > 20 && s.Right > 20 })
	now, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, broken, string(now))
	w.quiet(t)
}

// Charts and views go out as files other programs can read.
func TestWindowExports(t *testing.T) {
	d := newDesk(t, wide, screenTall, "1", "light")
	w := d.open(wide, tall)
	w.caution()
	w.settled()
	for _, x := range []struct{ entry, file string }{
		{"Chart: > PNG", "chart.png"}, {"Chart: > SVG", "chart.svg"}, {"Chart: > CSV", "chart.csv"}, {"Views as they stand > PDF", "views.pdf"}, {"Views as they stand > SVG", "views.svg"},
		{"Numbers over the travel", "numbers.csv"},
	} {
		w.settled()
		w.choose("button Export", x.entry)
		w.saveIn(x.file)
		s := w.shows("it says where "+x.file+" is", func(s state) bool { return len(s.Asked) > 0 })
		at := filepath.Join(d.home, x.file)
		require.Equal(t, []string{"Written"}, s.Asked, "%s", s.Told)
		assert.Equal(t, at, s.Told[0])
		w.press("answer Close")
		w.shows("that is put away", func(s state) bool { return len(s.Asked) == 0 })
		wellFormed(t, at)
	}
	w.quiet(t)
}

// wellFormed checks that a file is what its ending says and holds more than an empty one would.
func wellFormed(t *testing.T, name string) {
	t.Helper()
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	switch filepath.Ext(name) {
	case ".png":
		img, err := png.Decode(bytes.NewReader(data))
		require.NoError(t, err)
		colours := map[any]bool{}
		for y := img.Bounds().Min.Y; y < img.Bounds().Max.Y; y += 3 {
			for x := img.Bounds().Min.X; x < img.Bounds().Max.X; x += 3 {
				colours[img.At(x, y)] = true
			}
		}
		assert.Greater(t, len(colours), 4, "%s is empty", name)
	case ".svg":
		dec := xml.NewDecoder(bytes.NewReader(data))
		drawn := 0
		for {
			tok, err := dec.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			require.NoError(t, err)
			if e, ok := tok.(xml.StartElement); ok && (e.Name.Local == "path" || e.Name.Local == "text" || e.Name.Local == "polyline") {
				drawn++
			}
		}
		assert.Greater(t, drawn, 10, "%s is empty", name)
	case ".csv":
		lines := strings.Split(strings.TrimSpace(string(data)), "\n")
		assert.Greater(t, len(lines), 10, "%s is empty", name)
	case ".pdf":
		assert.True(t, bytes.HasPrefix(data, []byte("%PDF-")))
		assert.True(t, bytes.Contains(data[max(0, len(data)-64):], []byte("%%EOF")))
		if tool, err := exec.LookPath("pdftoppm"); err == nil { // a reader of another make, where there is one
			out := filepath.Join(t.TempDir(), "page")
			said, err := exec.Command(tool, "-png", "-r", "40", name, out).CombinedOutput()
			require.NoError(t, err, "%s", said)
			assert.Empty(t, string(said))
			pages, _ := filepath.Glob(out + "*.png")
			assert.NotEmpty(t, pages)
		}
	}
}
