package job

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestKeepsAreCheckedAndComeBack(t *testing.T) {
	base := func(keep string) string {
		return `{"format": "axleloft-job", "version": 1, "title": "x", "vehicle": {"wheelbase": 2800, "track": 1500, "tyre": {"loadedRadius": 350}},
 "links": [{"name": "Lower", "pair": true, "frame": [900, 520, 430], "axle": [0, 520, 380]}], "keep": [` + keep + `]}`
	}
	whole := `{"what": "length", "of": "Lower", "value": 901.4}, {"what": "line", "of": "Lower", "end": "frame", "way": "link", "along": [18, 0, 1]},
 {"what": "line", "of": "Lower", "end": "axle", "way": "level"}, {"what": "pinion", "of": "Lower", "from": -130, "to": 110, "value": -4.5}`
	j, err := Read(strings.NewReader(base(whole)))
	require.NoError(t, err)
	require.Len(t, j.Keep, 4)
	assert.Equal(t, Point{18, 0, 1}, *j.Keep[1].Along)
	assert.Equal(t, -130.0, *j.Keep[3].From)
	var out strings.Builder
	require.NoError(t, Write(&out, j))
	again, err := Read(strings.NewReader(out.String()))
	require.NoError(t, err)
	assert.Equal(t, j.Keep, again.Keep)
	for _, c := range []struct{ keep, says string }{
		{`{"what": "line", "end": "frame", "way": "level"}`, "which part's pivot"},
		{`{"what": "line", "of": "Lower", "way": "level"}`, "which pivot of"},
		{`{"what": "line", "of": "Lower", "end": "frame"}`, "which line is kept"},
		{`{"what": "line", "of": "Lower", "end": "frame", "way": "link"}`, "needs its direction"},
		{`{"what": "line", "of": "Lower", "end": "frame", "way": "holes", "along": [0, 0, 0]}`, "needs its direction"},
		{`{"what": "line", "of": "Lower", "end": "frame", "way": "slanted"}`, "slanted"},
		{`{"what": "pinion", "from": -1, "to": 1}`, "which link's frame end"},
		{`{"what": "pinion", "of": "Lower", "from": 1}`, "between two travels"},
		{`{"what": "pinion", "of": "Lower", "from": 1, "to": 1}`, "between two travels"},
		{`{"what": "pinion", "of": "Lower", "from": 1, "to": 2}, {"what": "pinion", "of": "Upper", "from": 1, "to": 2}`, "kept twice"},
		{`{"what": "length", "of": "Lower"}, {"what": "length", "of": "Lower"}`, "kept twice"},
	} {
		_, err := Read(strings.NewReader(base(c.keep)))
		require.Error(t, err, c.keep)
		assert.Contains(t, err.Error(), c.says)
	}
}
