package job_test

import (
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// A corner whose edge meets the row before it makes an outline that crosses itself however it goes on; each corner of one that does not can follow
// those before it.
func TestCrossingNext(t *testing.T) {
	assert.False(t, job.CrossingNext(nil, job.Point2{}))
	assert.True(t, job.CrossingNext([]job.Point2{{1, 2}}, job.Point2{1, 2}), "the same place")
	assert.True(t, job.CrossingNext([]job.Point2{{0, 0}, {10, 0}}, job.Point2{5, 0}), "back along itself")
	assert.False(t, job.CrossingNext([]job.Point2{{0, 0}, {10, 0}}, job.Point2{15, 0}))
	rapid.Check(t, func(t *rapid.T) {
		var o []job.Point2
		for range rapid.IntRange(3, 7).Draw(t, "n") {
			o = append(o, job.Point2{float64(rapid.IntRange(0, 6).Draw(t, "x")), float64(rapid.IntRange(0, 6).Draw(t, "y"))})
		}
		_, _, ok := job.Crossing(o)
		for i := range o {
			if met := job.CrossingNext(o[:i], o[i]); met && ok {
				t.Fatalf("%v: corner %d", o, i)
			}
		}
	})
}
