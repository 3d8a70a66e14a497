package edit

import (
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestJobCardKeepsWhatWasTyped(t *testing.T) {
	j := sprayer(t)
	j.Shown = &job.Shown{Length: "mm"}
	j.Card, j.Before = nil, nil
	part := Part{List: JobCard}
	for _, s := range [][2]string{{"use", "orchard rows"}, {"frontKg", "3300 lb"}, {"rearKg", "1420"}, {"tyre", "265/75R16"}, {"complaint", "since the new tank"},
		{"before.date", "2026-11-20"}, {"before.pinion", "-1.5"}, {"before.track", "64 1/4\""}, {"before.rideHeightLeft", "451"}, {"before.note", "left spring broken"}} {
		require.NoError(t, Set(j, part, s[0], s[1]), s[0])
	}
	require.Empty(t, job.Check(j))
	assert.InDelta(t, 3300*0.45359237, *j.Card.FrontKg, 1e-9)
	assert.InDelta(t, 64.25*25.4, j.Before.Values["track"], 1e-9)
	assert.Equal(t, -1.5, j.Before.Values["pinion"])
	texts := map[string]string{}
	for _, f := range Fields(j, part) {
		texts[f.Key] = f.Text
	}
	assert.Equal(t, "3300 lb", texts["frontKg"])
	assert.Equal(t, "64 1/4\"", texts["before.track"])
	for _, v := range job.BeforeValues() {
		assert.Contains(t, texts, "before."+v.Key)
	}

	require.Error(t, Set(j, part, "before.date", "last week"))
	require.Error(t, Set(j, part, "before.jointFront", "-2"), "a bend has no sign")
	require.Error(t, Set(j, part, "frontKg", "0"))
	for _, f := range Fields(j, part) {
		require.NoError(t, Set(j, part, f.Key, ""), f.Key)
	}
	assert.Nil(t, j.Card, "nothing typed is no card")
	assert.Nil(t, j.Before)
}

func TestReadyComplaints(t *testing.T) {
	j := sprayer(t)
	j.Card = nil
	require.NoError(t, Complain(j, "wanders"))
	require.NoError(t, Set(j, Part{List: JobCard}, "complaint", "since the new tank"))
	require.NoError(t, Complain(j, "squats"))
	assert.Equal(t, "squats; wanders; since the new tank", j.Card.Complaint)
	ready, rest := ComplaintOf(j.Card.Complaint)
	assert.Equal(t, []string{"squats", "wanders"}, ready)
	assert.Equal(t, "since the new tank", rest)
	require.NoError(t, Complain(j, "wanders"))
	require.NoError(t, Complain(j, "squats"))
	require.NoError(t, Set(j, Part{List: JobCard}, "complaint", ""))
	assert.Nil(t, j.Card)
	require.Error(t, Complain(j, "no such thing"))
}

func TestLoadFromTheCardsKilograms(t *testing.T) {
	j := sprayer(t)
	j.Card = nil
	_, err := LoadFromCard(j, -1)
	require.Error(t, err)
	require.NoError(t, Set(j, Part{List: JobCard}, "frontKg", "1500"))
	require.NoError(t, Set(j, Part{List: JobCard}, "rearKg", "2250 kg"))
	n := len(j.Vehicle.Loads)
	part, err := LoadFromCard(j, -1)
	require.NoError(t, err)
	require.Len(t, j.Vehicle.Loads, n+1)
	l := &j.Vehicle.Loads[part.Index]
	assert.Equal(t, 3750.0, l.Mass)
	assert.InDelta(t, 0.4*j.Vehicle.Wheelbase, l.CG[0], 1e-3)
	assert.Equal(t, "2250 kg", l.Given["rear"].Typed)
	require.Empty(t, job.Check(j))

	high := j.Vehicle.Loads[0].CG[2]
	_, err = LoadFromCard(j, 0)
	require.NoError(t, err)
	assert.Equal(t, 3750.0, j.Vehicle.Loads[0].Mass)
	assert.Equal(t, high, j.Vehicle.Loads[0].CG[2], "its height is not on the scales")
	_, err = LoadFromCard(j, 99)
	require.Error(t, err)
}
