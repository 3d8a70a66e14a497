package job_test

import (
	"bytes"
	"strings"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestCardAndBeforeRoundTrip(t *testing.T) {
	j, err := job.Read(strings.NewReader(fullJob))
	require.NoError(t, err)
	kg, off := 1480.5, 2.0
	j.Card = &job.Card{Complaint: "squats; wanders; since the new tank", Use: "orchard rows", RearKg: &kg, Tyre: "265/75R16",
		Given: job.Given{"rearKg": {Typed: "3264 lb"}}}
	j.Before = &job.Before{Date: "2026-11-20", Note: "left spring broken", Photo: "left.jpg", Values: map[string]float64{},
		Given: job.Given{"track": {Typed: "64 1/4\"", PlusMinus: &off, Source: "tape"}}}
	for i, v := range job.BeforeValues() {
		j.Before.Values[v.Key] = float64(i) - 1.5
	}
	require.Empty(t, job.Check(j))
	var out bytes.Buffer
	require.NoError(t, job.Write(&out, j))
	back, err := job.Read(bytes.NewReader(out.Bytes()))
	require.NoError(t, err)
	assert.Equal(t, j.Card, back.Card)
	assert.Equal(t, j.Before, back.Before)
	c := j.Clone()
	c.Card.Given["rearKg"] = job.GivenValue{Typed: "1"}
	c.Before.Values["track"] = 1
	assert.Equal(t, back.Card, j.Card, "a copy holds its own")
	assert.Equal(t, back.Before, j.Before)
}

func TestBeforeValuesAreNamedOnce(t *testing.T) {
	seen := map[string]bool{}
	for _, v := range job.BeforeValues() {
		assert.False(t, seen[v.Key] || seen[v.Title], v.Key)
		seen[v.Key], seen[v.Title] = true, true
		assert.NotEmpty(t, v.Sign, v.Key)
		assert.Equal(t, v.Deg && v.Key == "pinion", v.Signed, v.Key)
	}
	_, ok := (*job.Before)(nil).Value("track")
	assert.False(t, ok)
}
