package job

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestBracketsAreChecked(t *testing.T) {
	base := func(b string) string {
		return `{"format": "axleloft-job", "version": 1, "title": "x", "vehicle": {"wheelbase": 2800, "track": 1500, "tyre": {"loadedRadius": 350}},
 "links": [{"name": "Lower", "pair": true, "frame": [900, 520, 430], "axle": [0, 520, 380]}], "brackets": [` + b + `]}`
	}
	const tab = `"of": "Lower", "end": "frame", "kind": "tab", "thickness": 8, "hole": 16.5`
	const saddle = `"of": "Lower", "end": "frame", "kind": "saddle", "thickness": 8, "hole": 16.5, "edge": 28, "base": 60, "gap": 50`
	for _, good := range []string{
		`{` + tab + `, "edge": 28, "base": 60}`,
		`{` + tab + `, "edge": 28, "base": 60, "width": 40, "offset": -10, "pattern": {"count": 1, "hole": 12, "in": 20}}`,
		`{` + saddle + `, "rail": {"width": 70, "leg": 60}, "pattern": {"count": 2, "pitch": 30, "hole": 12, "in": 20}}`,
	} {
		_, err := Read(strings.NewReader(base(good)))
		require.NoError(t, err, good)
	}
	for _, c := range []struct{ bracket, says string }{
		{`{"of": " ", "end": "frame", "kind": "tab", "thickness": 8, "hole": 16.5, "edge": 28, "base": 60}`, "which part's pivot this bracket holds"},
		{`{"of": "Lower", "end": "", "kind": "tab", "thickness": 8, "hole": 16.5, "edge": 28, "base": 60}`, "which pivot of"},
		{`{` + tab + `, "edge": 28, "base": 60}, {` + tab + `, "edge": 28, "base": 60}`, "two brackets"},
		{`{"of": "Lower", "end": "frame", "kind": "hook", "thickness": 8, "hole": 16.5, "edge": 28, "base": 60}`, "saddle"},
		{`{` + tab + `, "edge": 8, "base": 60}`, "it would break out"},
		{`{` + tab + `, "edge": 28, "base": 8}`, "it would cut the hole"},
		{`{` + tab + `, "edge": 28, "base": 20, "width": 30}`, "so narrow at the mounting face"},
		{`{` + tab + `, "edge": 28, "base": 60, "gap": 5}`, "A tab is one plate"},
		{`{"of": "Lower", "end": "frame", "kind": "pair", "thickness": 8, "hole": 16.5, "edge": 28, "base": 60}`, "how far they stand apart"},
		{`{` + saddle + `}`, "needs the rail"},
		{`{` + tab + `, "edge": 28, "base": 60, "rail": {"width": 70, "leg": 60}}`, "Only a saddle"},
		{`{` + tab + `, "edge": 28, "base": 60, "pattern": {"count": 2, "hole": 12, "in": 20}}`, `Give "pitch"`},
		{`{` + tab + `, "edge": 28, "base": 60, "pattern": {"count": 2, "pitch": 10, "hole": 12, "in": 20}}`, "run into one another"},
		{`{` + tab + `, "edge": 28, "base": 60, "pattern": {"count": 2, "pitch": 50, "hole": 12, "in": 20}}`, "The row of holes takes 62 mm and the plate is 56 mm wide"},
		{`{` + tab + `, "edge": 28, "base": 60, "pattern": {"count": 0, "hole": 12, "in": 20}}`, "at least one"},
		{`{` + tab + `, "edge": 28, "base": 60, "pattern": {"count": 1, "hole": 12, "in": 5}}`, "Move the row further in"},
		{`{` + tab + `, "edge": 28, "base": 60, "pattern": {"count": 1, "hole": 12, "in": 20, "edge": 5}}`, "Make the edge larger"},
		{`{` + saddle + `, "rail": {"width": 70, "leg": 20}, "pattern": {"count": 1, "hole": 12, "in": 20}}`, "Make the leg longer"},
		{`{"of": "Lower", "end": "frame", "kind": "saddle", "thickness": 8, "hole": 16.5, "edge": 28, "base": 60, "gap": 500, "rail": {"width": 70, "leg": 60}}`, "they would stand beside it"},
		{`{` + tab + `, "edge": 28, "base": 60, "thickness": 8}`, "twice"},
		{`{` + tab + `, "edge": 28, "base": -60}`, "a size of a bracket"},
	} {
		_, err := Read(strings.NewReader(base(c.bracket)))
		require.Error(t, err, c.bracket)
		assert.Contains(t, err.Error(), c.says, c.bracket)
	}
}

func TestTidyTakesBracketsOfPartsThatWent(t *testing.T) {
	j := &Job{Links: []Link{{Name: "Lower", Pair: true}}, Brackets: []Bracket{{Of: "Lower", End: "frame"}, {Of: "Gone", End: "frame"}}}
	assert.True(t, j.Tidy())
	assert.Len(t, j.Brackets, 1)
	assert.False(t, j.Tidy())
}
