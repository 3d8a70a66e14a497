package study

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A figure told beside the bound it breaks never reads as that bound.
func TestBeyondTheBoundItIsToldBeside(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want string
	}{{-5.1, "5.1 %"}, {5.03, "5.03 %"}, {2.04, "2.04 %"}, {2.4, "2.4 %"}, {7.3, "7 %"}, {119.8, "120 %"}} {
		assert.Equal(t, c.want, beyond(c.v, 5, 2), "%v", c.v)
	}
	assert.Equal(t, "100.2 %", beyond(100.2, 50, 100))
}
