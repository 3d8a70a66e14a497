package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The list of gaps kept to one part by typing, gone through by keys, and a pair's gap over the travel shown from it and from a finding.
func TestWindowGapOfAPair(t *testing.T) {
	d := newDesk(t, wide, screenTall, "1", "light")
	w := d.open(wide, tall)
	defer w.quiet(t)
	w.caution()
	w.settled()

	w.press("button All gaps")
	w.shows("all gaps are listed", func(s state) bool { return len(s.Lines) > 180 })
	w.press("drawer Only this part")
	w.write("panhard")
	w.shows("only the rod's are listed", func(s state) bool {
		return len(s.Lines) < 40 && having(s.Lines, "Panhard rod / tank shelf", "29 mm in") != "" && having(s.Lines, "only beyond 80 mm") != ""
	})
	w.keys("Return", "Down", "Return")
	s := w.shows("the axle goes to the second one's place", func(s state) bool { return s.Right > 100 && s.Left < 60 })
	assert.Equal(t, "All gaps", s.Drawer)
	w.picture("gaps-of-one-part")
	w.keys("Up", "m")
	s = w.shows("the first one's gap over the travel lies in the pad", func(s state) bool { return s.Drawer == "" && having(s.Pad, "Stripes: touches (9 % of the") != "" })
	assert.NotEmpty(t, having(s.Pad, "Panhard rod / shelf"))
	assert.NotEmpty(t, having(s.Pad, "29 mm in"))
	w.picture("gap-of-a-pair")
	w.press("pad full bump")
	w.shows("how the two stand there", func(s state) bool { return having(s.Pad, "Both up 109: 29 mm in.") != "" })
	w.press("pad Back")
	s = w.shows("the pad is as before", func(s state) bool { return having(s.Pad, "Travel pad") != "" })
	assert.Empty(t, having(s.Pad, "Stripes"))
	assert.True(t, strings.HasPrefix(s.Findings[0], "Hits Panhard rod hits the tank shelf"), s.Findings[0])
}
