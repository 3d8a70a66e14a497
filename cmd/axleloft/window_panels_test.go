package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The presses of the travel pad, the table of heights and the joint's page, on an axle held by a Watt's linkage.
func TestWindowPadHeightsAndJoint(t *testing.T) {
	d := newDesk(t, wide, screenTall, "1", "light")
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "layouts", "watts-on-axle.axleloft"))
	require.NoError(t, err)
	file := filepath.Join(d.home, "watts.axleloft")
	require.NoError(t, os.WriteFile(file, data, 0o600))
	w := d.open(wide, tall, file)
	defer w.quiet(t)
	w.caution()
	w.settled()

	// Lines of a reading: by key, then by the chooser.
	w.press("pad dot")
	w.keys("l")
	w.shows("joint use lies in the patch", func(s state) bool { return having(s.Pad, "Lines: joint use in %") != "" })
	w.choose("pad Lines", "Pinion")
	w.shows("the pinion's lines lie in the patch", func(s state) bool { return having(s.Pad, "Lines: pinion in deg") != "" })
	w.picture("pad-lines")
	w.choose("pad Lines", "No lines")
	w.shows("the lines are gone", func(s state) bool { return having(s.Pad, "Lines:") == "" })

	// A strut goes down.
	w.press("pad dot")
	w.keys("h")
	s := w.shows("the left strut is down", func(s state) bool { return having(s.Pad, "Left strut down.") != "" })
	assert.Greater(t, s.Left, s.Right)
	w.press("pad Ride")

	// Heights and loads.
	w.press("button Heights")
	s = w.shows("the heights are listed", func(s state) bool { return s.Drawer == "Heights" && having(s.Lines, "Pinion, deg") != "" })
	assert.Equal(t, 6, strings.Count(having(s.Lines, "Roll steer, %"), " | "), "three heights, two loads")
	w.picture("heights")
	w.keys("ctrl+8")
	w.shows("the drawer closes", func(s state) bool { return s.Drawer == "" })

	// The joint of a rod, then of a link, clocked midway and undone.
	w.press("rear pivot Watt's rod left, far end")
	w.shows("the rod's end is held", func(s state) bool { return s.Pivot == "Watt's rod left, far end" })
	w.press("card Joint")
	w.shows("its joint is shown", func(s state) bool {
		return having(s.Card, "fore-and-aft") != "" && having(s.Card, "of its limit") != ""
	})
	w.press("plan pivot Lower left, axle end")
	w.shows("the lower's joint is shown", func(s state) bool { return strings.HasPrefix(s.Pivot, "Lower") && having(s.Card, "at the worst") != "" })
	w.picture("joint")
	w.press("card Midway")
	w.shows("the link is clocked midway", func(s state) bool { return s.Undo == "clock midway: Lower" })
	w.keys("ctrl+z")
	w.shows("and back", func(s state) bool { return s.Undo == "" })
}
