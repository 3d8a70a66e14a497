package edit

import (
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestStrays(t *testing.T) {
	j := sprayer(t)
	_, err := Add(j, Brackets, "")
	require.NoError(t, err)
	first, step := job.Point{1000, 437, 430}, job.Point{0, 0, 40}
	j.Holes = []job.Holes{{Of: "Lower", End: "frame", First: &first, Step: &step, Count: 3}}
	assert.Empty(t, Strays(j))
	j.Brackets = append(j.Brackets, job.Bracket{Of: "Lower", End: "fram"}, job.Bracket{Of: "Arm", End: "frame[0]"})
	j.Holes = append(j.Holes, job.Holes{Of: "Lower", End: "middle"})
	assert.Equal(t, []string{`The bracket of "Lower" at "fram" is of no pivot there is: correct its of or end.`, `The bracket of "Arm" at "frame[0]" is of no pivot there is: correct its of or end.`,
		`The holes of "Lower" at "middle" are of no pivot there is: correct their of or end.`}, Strays(j))
	j.Trials = []job.Trial{{Name: "With an arm", Arms: []job.Arm{{Name: "Arm", Frame: []job.Point{{900, 400, 600}, {900, -400, 600}}, Axle: []job.Point{{0, 0, 650}}}}}}
	assert.Len(t, Strays(j), 2, "a trial has it")
}
