package study

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Curves that lie on each other go by one name: of twins, of a pair of parts on both sides, else by both.
func TestNamesOfCurvesOnEachOther(t *testing.T) {
	for _, x := range [][3]string{
		{"Strut left", "Strut right", "Strut left and right"},
		{"Strut left / axle tube", "Strut right / axle tube", "Strut / axle tube, both sides"},
		{"Lower left / tyre left", "Lower right / tyre right", "Lower / tyre, both sides"},
		{"Strut left / axle tube", "Upper left / axle tube", "Strut left / axle tube, Upper left / axle tube"},
		{"empty", "full load", "empty, full load"},
	} {
		out := joinEqual([]Curve{{Name: x[0], Y: []float64{1, 2}}, {Name: x[1], Y: []float64{1, 2}}})
		assert.Len(t, out, 1)
		assert.Equal(t, x[2], out[0].Name)
	}
	assert.Len(t, joinEqual([]Curve{{Name: "Strut left", Y: []float64{1, 2}}, {Name: "Strut right", Y: []float64{1, 2.1}}}), 2)
}
