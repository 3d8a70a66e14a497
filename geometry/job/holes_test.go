package job

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestHoles(t *testing.T) {
	h := Holes{First: &Point{100, 400, 500}, Step: &Point{0, 0, 20}, Count: 3}
	assert.Equal(t, []Point{{100, 400, 500}, {100, 400, 520}, {100, 400, 540}}, h.Places())
	assert.Equal(t, 2, h.Hole(Point{100, 400.3, 520}, 0.5))
	assert.Equal(t, 0, h.Hole(Point{100, 400, 530}, 0.5))
	assert.Nil(t, (&Holes{Count: 3}).Places())
	assert.Len(t, (&Holes{At: []Point{{1}, {2}}}).Places(), 2)
}

func TestHolesAreChecked(t *testing.T) {
	base := func(holes string) string {
		return `{"format": "axleloft-job", "version": 1, "title": "x", "vehicle": {"wheelbase": 2800, "track": 1500, "tyre": {"loadedRadius": 350}},
 "links": [{"name": "Lower", "pair": true, "frame": [900, 520, 430], "axle": [0, 520, 380]}], "holes": [` + holes + `]}`
	}
	_, err := Read(strings.NewReader(base(`{"of": "Lower", "end": "frame", "first": [900, 520, 410], "step": [0, 0, 20], "count": 3}`)))
	require.NoError(t, err)
	for _, c := range []struct{ holes, says string }{
		{`{"of": "", "end": "frame", "first": [900, 520, 410], "step": [0, 0, 20], "count": 3}`, "which part's pivot"},
		{`{"of": "Lower", "end": "", "first": [900, 520, 410], "step": [0, 0, 20], "count": 3}`, "which pivot of"},
		{`{"of": "Lower", "end": "frame", "first": [900, 520, 410], "step": [0, 0, 20]}`, `needs "first", "step" and "count"`},
		{`{"of": "Lower", "end": "frame"}`, "At least two holes"},
		{`{"of": "Lower", "end": "frame", "at": [[900, 520, 410]]}`, "At least two holes"},
		{`{"of": "Lower", "end": "frame", "first": [900, 520, 410], "step": [0, 0, 0], "count": 3}`, "Holes 1 and 2 lie in one place"},
		{`{"of": "Lower", "end": "frame", "first": [900, 520, 410], "step": [0, 0, 20], "count": 41}`, "a whole number"},
		{`{"of": "Lower", "end": "frame", "at": [[1, 2, 3], [1, 2, 9]]}, {"of": "Lower", "end": "frame", "at": [[1, 2, 3], [1, 2, 9]]}`, "two rows of holes"},
		{`{"of": "Lower", "end": "frame", "at": [[1, 2, 3], [1, 2, 9]], "count": 2}`, "Keep one of them"},
	} {
		_, err := Read(strings.NewReader(base(c.holes)))
		require.Error(t, err, c.holes)
		assert.Contains(t, err.Error(), c.says)
	}
}
