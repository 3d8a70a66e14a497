package panel

import (
	"testing"

	"axleloft/app/document"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The three things are ticked off by what the document does, each only by its own.
func TestThreeThingsToTry(t *testing.T) {
	n := open(t, "orchard-sprayer")
	gone := false
	x := NewTries(n.h, func() { gone = true })
	require.True(t, x.Stands())
	assert.Equal(t, [3]bool{}, x.Done)
	assert.Contains(t, x.Text(), "Panhard rod's ends")

	s, _ := n.d.Study()
	f := s.Worst()
	require.NotNil(t, f)
	n.d.MoveAxle(f.Left, f.Right)
	x.Update(document.PositionChanged)
	assert.Equal(t, [3]bool{true, false, false}, x.Done, "both wheels together are no tyre pulled up")

	n.d.MoveAxle(0, 0)
	x.Update(document.PositionChanged)
	n.d.MoveAxle(60, 0)
	x.Update(document.PositionChanged)
	assert.Equal(t, [3]bool{true, true, false}, x.Done)

	drop := func(mm float64) {
		require.NoError(t, n.d.Edit("rod", "", func(j *job.Job) error {
			for i := range j.Links {
				if j.Links[i].Name == "Panhard rod" {
					j.Links[i].Frame[2] -= mm
					j.Links[i].Axle[2] -= mm
				}
			}
			return nil
		}))
		n.d.Settle()
		x.Update(document.StudyChanged)
	}
	drop(10)
	assert.False(t, x.Done[2], "it still hits")
	drop(45)
	assert.True(t, x.Done[2])
	assert.Contains(t, x.Text(), "roll steer 4.1 to 5.2 %, roll centre 533 to 480 mm")

	x.Close.Tapped(nil)
	assert.True(t, gone)
	assert.False(t, x.Stands())
}
