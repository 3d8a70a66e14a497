package study_test

import (
	"context"
	"testing"

	"axleloft/app/study"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
)

// A height at which the axle cannot stand under some load is told; those within the travel are not.
func TestHeightsBeyondTheTravel(t *testing.T) {
	j := demo(t, "rescue-tender", "") // 109 mm of bump, 119 of droop
	j.Vehicle.Loads[0].Name, j.Vehicle.Loads[1].Name = "empty", "full load"
	j.Vehicle.Loads[0].Heave, j.Vehicle.Loads[1].Heave = 0, 25
	j.Vehicle.Heights = []job.Height{{Name: "ride"}, {Name: "kneeling", Heave: 95}, {Name: "stilts", Heave: -160}, {Name: "raised", Heave: -118}}
	var told []string
	for _, f := range study.New(context.Background(), j, study.Live).Findings {
		if len(f.Key) > 7 && f.Key[:7] == "height/" {
			assert.Equal(t, study.RunsOut, f.Kind)
			told = append(told, f.Sentence)
		}
	}
	assert.ElementsMatch(t, []string{
		"Kneeling with full load asks for 120 mm of bump, and the axle goes 109 mm up: it cannot stand there.",
		"Stilts asks for 160 mm of droop, and the axle goes 119 mm down: it cannot stand there.",
	}, told)
}
