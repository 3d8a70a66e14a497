package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// tap presses a view so many pixels from its middle.
func (w *window) tap(view string, dx, dy int) {
	w.t.Helper()
	x, y := w.place(view)
	w.move(x+dx, y+dy)
	w.do("click", "1")
	w.do("sleep", "0.1")
}

// A part is drawn from the list of what is in the way by mouse, its width typed; then one by keys alone, a corner of it led and taken out again.
func TestWindowDrawsAPart(t *testing.T) {
	d := newDesk(t, wide, screenTall, "1", "light")
	w := d.open(wide, tall)
	defer w.quiet(t)
	w.caution()
	w.settled()

	w.keys("ctrl+2")
	w.shows("what is in the way is listed", func(s state) bool { return s.Drawer == "In the way" })
	w.choose("drawer Add", "Draw in a view > Box, by two corners")
	w.shows("the drawer makes room", func(s state) bool { return s.Drawer == "" })
	w.tap("side", 160, 40)
	w.tap("side", 240, 90)
	w.picture("drawing-a-box")
	w.tap("side", 0, 0)
	w.shows("its width is asked", func(s state) bool { return len(s.Asked) == 1 && s.Asked[0] == "Box" })
	w.write("-150")
	w.keys("Return")
	s := w.shows("it is there", func(s state) bool { return s.Undo == "draw box" && s.Drawer == "In the way" })
	assert.NotEmpty(t, having(s.Lines, "Box (planned)"))
	w.press("drawer Close")
	w.shows("the drawer closes", func(s state) bool { return s.Drawer == "" })
	w.drag("side point 1", -30, 20)
	w.shows("a corner was dragged", func(s state) bool { return s.Undo == "move corner of Box" })
	w.keys("ctrl+z", "ctrl+z")
	w.shows("two steps", func(s state) bool { return s.Undo == "" })

	w.keys("ctrl+shift+b", "o")
	for _, way := range []string{"shift+Right", "shift+Down", "shift+Right"} {
		for range 8 {
			w.keys(way)
		}
		w.keys("Return")
	}
	w.picture("drawing-an-outline")
	w.keys("Return", "Return")
	w.shows("an outline by keys", func(s state) bool { return s.Undo == "draw outline" })
	w.keys("Tab", "Insert", "shift+Down")
	w.shows("a corner more, led", func(s state) bool { return s.Undo == "move corner of Part" })
	w.picture("a-corner-by-keys")
	w.keys("Delete")
	w.shows("and out again", func(s state) bool { return s.Undo == "take out corner of Part" })
	w.keys("ctrl+z", "ctrl+z", "ctrl+z", "ctrl+z")
	w.shows("as it was", func(s state) bool { return s.Undo == "" })
}
