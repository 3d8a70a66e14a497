package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The orchard sprayer's tank panel gives the notch and its litres; then the lowest points and another tyre, all by mouse and keys.
func TestWindowTankLowestAndTyre(t *testing.T) {
	d := newDesk(t, wide, screenTall, "1", "light")
	w := d.open(wide, tall)
	defer w.quiet(t)
	w.caution()
	w.settled()

	// The tank, from the list of what is in the way.
	w.keys("ctrl+2")
	w.shows("what is in the way is listed", func(s state) bool { return s.Drawer == "In the way" })
	w.keys("ctrl+t")
	s := w.shows("the tank's cuts are told", func(s state) bool { return s.Drawer == "Tank" && having(s.Lines, "Loses", "from the") != "" })
	assert.Contains(t, having(s.Lines, "Tank shelf:"), "28.8 L (7.6 US gal, 6.3 imperial gal)")
	assert.Contains(t, having(s.Lines, "Panhard rod hits"), "29 mm (25 mm wanted)")
	assert.Contains(t, having(s.Lines, "The keep-out"), "proved over the whole range")
	notch := having(s.Lines, "Loses", "from the front face", "from the bottom face")
	require.NotEmpty(t, notch, "the notch with its sizes")
	assert.NotEmpty(t, having(s.Lines, "With the cut shown:", "lost", "left"))
	assert.NotEmpty(t, having(s.Lines, "gas-free"))
	full := having(s.Lines, "190 | 28.8 |")
	require.NotEmpty(t, full, "the dip table to the brim")
	w.picture("tank")

	// Another cut by a press: the table's last line loses what it says.
	w.press("drawer " + notch)
	w.shows("the notch is shown", func(s state) bool {
		return strings.HasPrefix(notch, "Loses") && having(s.Lines, "With the cut shown:", strings.SplitN(notch, " ", 3)[1]+" L") != ""
	})
	w.press("field Nose down")
	w.write("8")
	w.keys("Return")
	w.shows("tilted, less lies at the same depth or more", func(s state) bool {
		return having(s.Lines, "190 | 28.8 |") == "" && having(s.Lines, "190 | ") != ""
	})
	w.choose("drawer Save", "Dip table as shown, CSV...")
	name := filepath.Join(d.home, "dip.csv")
	w.saveIn("dip.csv")
	w.until("the dip table is written", func() bool { _, err := os.Stat(name); return err == nil })
	w.shows("it says where", func(s state) bool { return len(s.Told) == 1 })
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(string(data), "vessel,depth_mm,before_l,after_l\nTank shelf,0,"), "%.80s", data)
	w.keys("Escape")

	// Lowest points: a figure by the keys goes there.
	w.keys("ctrl+shift+l")
	s = w.shows("lowest points are told", func(s state) bool { return s.Drawer == "Lowest points" && having(s.Lines, "Strut left, mm | ") != "" })
	assert.NotEmpty(t, having(s.Lines, "Ramp angle, deg | "))
	w.press("drawer table")
	w.keys("Return")
	w.shows("its place is told", func(s state) bool { return having(s.Lines, "above the ground, at X") != "" })
	w.picture("lowest")

	// Another tyre: a size that hits is said to; nothing of the job changes.
	w.keys("ctrl+shift+t")
	w.shows("the next size up is tried", func(s state) bool {
		return s.Drawer == "Another tyre" && having(s.Lines, "A tyre 13 mm larger in radius") != ""
	})
	w.press("field Larger in radius")
	w.write("60")
	w.keys("Return")
	s = w.shows("it hits the wheel arch", func(s state) bool { return having(s.Lines, "Tyre left / wheel arch left: hits") != "" })
	assert.Empty(t, s.Undo, "nothing of the job changes")
	assert.False(t, s.Dirty)
	w.picture("another-tyre")
	w.press("drawer Close")
	w.shows("the drawer closes", func(s state) bool { return s.Drawer == "" })
}
