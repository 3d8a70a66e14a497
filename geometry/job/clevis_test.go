package job_test

import (
	"math"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
)

// seriesK are rod ends of series K of ISO 12240-4 as one maker prints them (read): bore, head, ball width, head width, mm.
var seriesK = []struct{ bore, head, ball, width float64 }{
	{12, 30, 16, 12}, {14, 34, 19, 13.5}, {16, 38, 21, 15}, {20, 46, 25, 18},
}

// A rod-end catalogue (read in part) gives asin(B/D) - asin(C1/D) for a head that ends on a ball of diameter D, B the gap; with the gap equal to the
// ball's width 8.65, 10.6, 10.3, 9.9 deg for bores 12, 14, 16, 20, and for a square-edged head asin(B/sqrt(D^2 + C1^2)) - atan(C1/D), 7.9, 9.6, 9.4,
// 9.0 (derived). A square head touches first, one rounded to half its width last.
func TestClevisLimit(t *testing.T) {
	square := map[float64]float64{12: 7.9, 14: 9.6, 16: 9.4, 20: 9.0}
	ballEnded := map[float64]float64{12: 8.65, 14: 10.6, 16: 10.3, 20: 9.9}
	for _, k := range seriesK {
		c := job.Clevis{Head: k.head, HeadWidth: k.width, BallWidth: k.ball}
		assert.InDelta(t, square[k.bore], c.Limit(), 0.05, "bore %v", k.bore)
		gap := k.ball
		same := c
		same.Gap = &gap
		assert.Equal(t, c.Limit(), same.Limit(), "the gap is the ball's width unless given")

		half := k.width / 2
		round := c
		round.EdgeRadius = &half
		assert.Less(t, c.Limit(), ballEnded[k.bore])
		assert.Greater(t, round.Limit(), ballEnded[k.bore])
		wide := gap + 2
		same.Gap = &wide
		assert.Greater(t, same.Limit(), c.Limit(), "a wider gap lets it tilt further")
	}
	assert.Zero(t, (&job.Clevis{}).Limit(), "nothing given yet")
}

// Against the head's own outline, tilted: just before the limit it is clear of the cheek, just after it is not.
func TestClevisLimitOfTheOutline(t *testing.T) {
	for _, k := range seriesK {
		for _, r := range []float64{0, 0.5, 2, k.width / 2} {
			for _, more := range []float64{0, 1.5} {
				gap := k.ball + more
				c := job.Clevis{Head: k.head, HeadWidth: k.width, BallWidth: k.ball, Gap: &gap, EdgeRadius: &r}
				reach := func(deg float64) float64 { // how far from the middle plane the tilted head comes
					s, co := math.Sincos(deg * math.Pi / 180)
					most := 0.0
					for i := 0; i <= 2000; i++ {
						es, ec := math.Sincos(math.Pi / 2 * float64(i) / 2000)
						out, side := k.head/2-r+r*ec, k.width/2-r+r*es
						most = math.Max(most, out*s+side*co)
					}
					return most
				}
				limit := c.Limit()
				assert.Less(t, reach(limit-0.01), gap/2, "bore %v, edges %v", k.bore, r)
				assert.Greater(t, reach(limit+0.01), gap/2, "bore %v, edges %v", k.bore, r)
			}
		}
	}
}
