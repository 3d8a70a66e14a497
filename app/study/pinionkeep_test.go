package study

import (
	"bytes"
	"testing"

	"axleloft/app/edit"
	"axleloft/assets"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func kept(t *testing.T, demo, link string) (*job.Job, int) {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo(demo)))
	require.NoError(t, err)
	for _, p := range edit.Pivots(j) {
		require.NoError(t, edit.SetMeasured(j, p, false))
	}
	at := -1
	for i := range j.Links {
		if j.Links[i].Name == link {
			at = i
		}
	}
	require.NoError(t, edit.SetKeepPinion(j, at, -100, 80))
	up, err := KeepPinion(j)
	require.NoError(t, err)
	assert.Zero(t, up, "what it is now is noted")
	return j, at
}

// However a pivot is moved, the frame end goes to the height at which the pinion turns as it did, told by the study's own positions; back where it was it
// comes back to its own height.
func TestThePinionsChangeIsKept(t *testing.T) {
	for demo, links := range map[string][2]string{"rescue-tender": {"Upper", "Lower"}, "orchard-sprayer": {"Centre upper", "Lower"}, "survey-wagon": {"Upper", "Lower"}} {
		j, upper := kept(t, demo, links[0])
		k, _ := edit.KeptPinion(j)
		lower := -1
		for i := range j.Links {
			if j.Links[i].Name == links[1] {
				lower = i
			}
		}
		was := j.Links[upper].Frame
		p := edit.Pivot{List: edit.Links, Index: lower, End: edit.FrameEnd, Side: job.Left}
		at, _ := edit.At(j, p)
		for _, by := range []r3.Vec{{Z: 14}, {X: -60, Z: -9}, {Y: 8, Z: 20}} {
			require.NoError(t, edit.Move(j, p, r3.Add(at, by)))
			up, err := KeepPinion(j)
			require.NoError(t, err, demo)
			assert.NotZero(t, up)
			s := Compile(j)
			turns := s.At(80, 80).Values[0].PinionDeg - s.At(-100, -100).Values[0].PinionDeg
			assert.InDelta(t, *k.Value, turns, 2e-5, demo)
		}
		require.NoError(t, edit.Move(j, p, at))
		_, err := KeepPinion(j)
		require.NoError(t, err)
		assert.InDelta(t, was[2], j.Links[upper].Frame[2], 0.01, demo)
		assert.Empty(t, job.Check(j))
	}
}

func TestThePinionThatCannotBeKept(t *testing.T) {
	j, upper := kept(t, "rescue-tender", "Upper")
	edit.SetPinionValue(j, 45)
	_, err := KeepPinion(j)
	assert.ErrorContains(t, err, "The pinion cannot be kept: with this it would turn ")
	assert.ErrorContains(t, err, "up to 150 mm up or down it comes no nearer than")
	k, _ := edit.KeptPinion(j)
	now, err := PinionChange(j, k.From, k.To)
	require.NoError(t, err)
	edit.SetPinionValue(j, now+0.2)
	require.NoError(t, edit.SetKeepLength(j, upper, true))
	_, err = KeepPinion(j)
	var f *edit.Fight
	require.ErrorAs(t, err, &f)
	assert.Equal(t, [2]string{"Keep pinion", "Keep length"}, f.Keeps)
	_, err = PinionChange(j, -5000, 0)
	assert.Error(t, err)
}

func BenchmarkKeepPinion(b *testing.B) {
	for _, demo := range []string{"rescue-tender", "survey-wagon"} {
		b.Run(demo, func(b *testing.B) { benchKeepPinion(b, demo) })
	}
}

func benchKeepPinion(b *testing.B, demo string) {
	j, err := job.Read(bytes.NewReader(assets.Demo(demo)))
	require.NoError(b, err)
	require.NoError(b, edit.SetKeepPinion(j, 1, -100, 80))
	_, err = KeepPinion(j)
	require.NoError(b, err)
	j.Links[0].Frame[2] += 14
	for b.Loop() {
		if _, err := KeepPinion(j.Clone()); err != nil {
			b.Fatal(err)
		}
	}
}
