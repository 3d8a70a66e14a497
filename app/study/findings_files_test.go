package study_test

import (
	"context"
	"testing"

	"axleloft/app/study"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A part whose file is not there is told once as not known, and all else is as without it.
func TestUnreadFileIsAFinding(t *testing.T) {
	j := demo(t, "orchard-sprayer", "")
	whole := study.New(context.Background(), j, study.Live)
	j.Folder = t.TempDir()
	j.Envelopes = append(j.Envelopes, job.Envelope{Name: "Winch", Kind: "mesh", File: "winch.stl"})
	j.Axle.Housing = append(j.Axle.Housing, job.Envelope{Kind: "mesh", File: "cover.stl"})
	s := study.New(context.Background(), j, study.Live)
	require.Empty(t, s.RangeNote)
	var told []study.Finding
	for _, f := range s.Findings {
		if f.Key == "file/Winch" || f.Key == "file/Housing/1" {
			told = append(told, f)
		}
	}
	require.Len(t, told, 2)
	assert.Len(t, s.Findings, len(whole.Findings)+2)
	for _, f := range told {
		assert.Equal(t, study.NotKnown, f.Kind)
	}
	sentences := told[0].Sentence + told[1].Sentence
	assert.Contains(t, sentences, `Winch: its file "winch.stl" is not beside the job: put it there. Till then nothing is measured against it.`)
	assert.Contains(t, sentences, "of the housing only the other shapes are measured")
}
