package study_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"testing"

	"axleloft/app/study"
	"axleloft/assets"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func demo(t testing.TB, name, trial string) *job.Job {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo(name)))
	require.NoError(t, err)
	j, err = j.WithTrial(trial)
	require.NoError(t, err)
	return j
}

func TestSprayerFindings(t *testing.T) {
	s := study.New(context.Background(), demo(t, "orchard-sprayer", ""), study.Full)
	require.Empty(t, s.Refusal)
	require.Empty(t, s.RangeNote)
	require.NotEmpty(t, s.Findings)
	f := s.Findings[0]
	assert.Equal(t, study.Hits, f.Kind)
	assert.Equal(t, "Panhard rod / tank shelf", f.What)
	assert.Equal(t, "29 mm", f.Number)
	assert.Equal(t, "both wheels up\nfirst at 78 of 109 mm", f.Where)
	assert.Equal(t, "Panhard rod hits the tank shelf at 78 mm of bump (109 till the struts are home). At full bump it is 29 mm in; 54 mm short of the 25 mm you asked for. Left wheel alone at 105; crossed up, left wheel up, at 166; right wheel alone never.", f.Sentence)
	for i := 1; i < len(s.Findings); i++ {
		assert.LessOrEqual(t, s.Findings[i-1].Kind, s.Findings[i].Kind)
	}
	if os.Getenv("SHOW") != "" {
		for _, n := range assets.Demos() {
			for _, f := range study.New(context.Background(), demo(t, n, ""), study.Full).Findings {
				fmt.Printf("%s %d [%s] %s | %s | %q\n   %s\n", n, f.Kind, f.Key, f.What, f.Number, f.Where, f.Sentence)
			}
		}
	}
}

// With the uppers raised the driveshaft clears the tank by a millimetre: that is what one line should show, not the missing bump stop.
func TestNearMissComesBeforeAMissingStop(t *testing.T) {
	s := study.New(context.Background(), demo(t, "rescue-tender", "Uppers raised 24"), study.Full)
	require.Equal(t, study.RunsOut, s.Findings[0].Kind)
	f := s.Worst()
	require.NotNil(t, f)
	assert.Equal(t, study.Tight, f.Kind)
	assert.Equal(t, "Driveshaft / side tank", f.What)
	assert.InDelta(t, 1.0, f.Value, 0.06) // independent calculation, printed to 0.1 mm
	assert.True(t, f.Place)
}
