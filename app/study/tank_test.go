package study_test

import (
	"context"
	"testing"

	"axleloft/app/study"
	"axleloft/geometry/vessel"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func tankOf(t *testing.T, name, tank string) (*study.Study, *study.Tank) {
	t.Helper()
	s := study.New(context.Background(), demo(t, name, ""), study.Full)
	for _, e := range s.Tanks() {
		if e.Name == tank {
			k, err := s.Tank(context.Background(), e, vessel.Fine{Side: 16, Most: 100_000}, nil)
			require.NoError(t, err)
			return s, k
		}
	}
	t.Fatalf("no tank %q", tank)
	return nil, nil
}

// The sprayer's shelf: the rod takes some of it, at the place it hits deepest a section of the keep-out holds that place.
func TestTankOfTheSprayer(t *testing.T) {
	s, k := tankOf(t, "orchard-sprayer", "Tank shelf")
	require.NotEmpty(t, k.Nearest())
	assert.Equal(t, "Panhard rod hits by 29 mm (25 mm wanted) at 109 mm of bump.", k.NearWords(k.Nearest()[0], s.Length))
	words := k.TakenWords()
	require.Len(t, words, 2)
	assert.Contains(t, words[0], "Panhard rod")
	assert.Contains(t, words[0], "proved over the whole range")
	assert.Contains(t, words[1], "0.0 L can still touch")
	at, ok := k.Worst()
	require.True(t, ok)
	for axis, v := range [3]float64{at.X, at.Y, at.Z} {
		sec, err := k.Section(context.Background(), axis, v)
		require.NoError(t, err)
		assert.NotEmpty(t, sec.Loops, "axis %d at %v", axis, v)
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	_, err := s.Tank(ctx, s.Tanks()[0], vessel.Usual, nil)
	assert.ErrorIs(t, err, context.Canceled)
}

// Nothing comes near the rear tank: it says so, and there is no worst place.
func TestTankThatIsClear(t *testing.T) {
	_, k := tankOf(t, "orchard-sprayer", "Rear tank")
	assert.Empty(t, k.Nearest())
	assert.Equal(t, []string{"Nothing that moves comes nearer to it than the gap wanted, proved over the whole range, between positions too."}, k.TakenWords())
	_, ok := k.Worst()
	assert.False(t, ok)
}

func TestVolumesInWords(t *testing.T) {
	assert.Equal(t, "28.8 L (7.6 US gal, 6.3 imperial gal)", study.Volume(28.842))
	assert.Equal(t, "0.0", study.Litres(-0.01))
}
