package quantity_test

import (
	"math"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// demoJob is the demo job whose name begins so.
func demoJob(t *testing.T, name string) *job.Job {
	t.Helper()
	for _, d := range assets.Demos() {
		if d == name {
			j, _ := demo(t, d)
			return j
		}
	}
	require.Fail(t, "no such demo", name)
	return nil
}

// A layout that is its own mirror image: with the travels swapped everything that has a side changes sign or twin, the rest stays.
func TestMirrorImage(t *testing.T) {
	j := demoJob(t, "rescue-tender")
	for _, w := range [][2]float64{{80, -80}, {-60, 20}, {140, 0}, {-100, -40}} {
		a, _, _ := at(t, j, w[0], w[1])
		b, _, _ := at(t, j, w[1], w[0])
		for what, v := range map[string][2]float64{
			"y": {a.Y, b.Y}, "steer": {a.SteerDeg, b.SteerDeg}, "squareness": {a.Squareness, b.Squareness},
			"roll": {a.RollDeg, b.RollDeg}, "articulation": {a.ArticulationDeg, b.ArticulationDeg},
		} {
			assert.InDelta(t, v[0], -v[1], 1e-9, what)
			assert.NotZero(t, v[0], what)
		}
		for what, v := range map[string][2]float64{
			"x": {a.X, b.X}, "heave": {a.Heave, b.Heave}, "pinion": {a.PinionDeg, b.PinionDeg}, "pitch": {a.PitchDeg, b.PitchDeg},
			"anti-squat": {a.AntiSquatPct, b.AntiSquatPct}, "roll centre": {a.RollCentre, b.RollCentre}, "roll steer": {a.RollSteerPct, b.RollSteerPct},
			"instant centre": {a.ICZ, b.ICZ}, "front joint": {a.ShaftFrontDeg, b.ShaftFrontDeg}, "slip": {a.Slip, b.Slip},
			"fluctuation": {a.FluctuationPct, b.FluctuationPct}, "worst": {a.WorstBind, b.WorstBind},
		} {
			assert.InDelta(t, v[0], v[1], 1e-7*(1+math.Abs(v[0])), what)
		}
		for i := 0; i+1 < len(a.Struts); i += 2 { // twins follow each other
			assert.InDelta(t, a.Struts[i].Length, b.Struts[i+1].Length, 1e-9)
			assert.InDelta(t, a.Struts[i].RatioHeave, b.Struts[i+1].RatioHeave, 1e-9)
			assert.InDelta(t, a.Struts[i].RatioRoll, b.Struts[i+1].RatioRoll, 1e-9)
			assert.InDelta(t, a.Struts[i].AxleTilt, b.Struts[i+1].AxleTilt, 1e-9)
		}
	}
}

// At ride height an axle that stands square reads plain zeros, never -0.
func TestNoNegativeZeros(t *testing.T) {
	for _, name := range assets.Demos() {
		v, _, _ := at(t, demoJob(t, name), 0, 0)
		for what, x := range map[string]float64{"steer": v.SteerDeg, "squareness": v.Squareness, "pitch": v.PitchDeg, "roll": v.RollDeg, "y": v.Y, "slip": v.Slip} {
			assert.Zero(t, x, what)
			assert.False(t, math.Signbit(x), "%s of %s is -0", what, name)
		}
	}
}

// What two changes to the demo jobs do to figures at ride height, by an independent calculation out of the definitions.
func TestDemoStories(t *testing.T) {
	raise := func(j *job.Job, name string, frame, axle float64) {
		for i := range j.Links {
			if j.Links[i].Name == name {
				j.Links[i].Frame[2] += frame
				j.Links[i].Axle[2] += axle
				return
			}
		}
		require.Fail(t, "no link", name)
	}
	full := func(j *job.Job) *job.Job {
		j.Vehicle.Loads = j.Vehicle.Loads[1:]
		return j
	}
	j := full(demoJob(t, "orchard-sprayer"))
	raise(j, "Panhard rod", -55, -55)
	v, _, _ := at(t, j, 0, 0)
	assert.InDelta(t, 480.0, v.RollCentre, 0.05)
	assert.InDelta(t, 5.20, v.RollSteerPct, 0.005)

	j = full(demoJob(t, "rescue-tender"))
	raise(j, "Upper", 24, 0)
	v, _, _ = at(t, j, 0, 0)
	assert.InDelta(t, 71.6, v.AntiSquatPct, 0.05)
	assert.InDelta(t, 664.0, v.RollCentre, 0.05)
	assert.InDelta(t, 1.40, v.RollSteerPct, 0.005)
}

// A motion ratio is what the strut really does: against differences of its length.
func TestMotionRatios(t *testing.T) {
	j := demoJob(t, "survey-wagon")
	const h = 1e-3
	v, _, _ := at(t, j, 50, -20)
	up, _, _ := at(t, j, 50+h, -20+h)
	down, _, _ := at(t, j, 50-h, -20-h)
	left, _, _ := at(t, j, 50+h, -20-h)
	right, _, _ := at(t, j, 50-h, -20+h)
	for i := range v.Struts {
		assert.InDelta(t, -(up.Struts[i].Length-down.Struts[i].Length)/(2*h), v.Struts[i].RatioHeave, 1e-8)
		side := map[int]float64{0: 1, 1: -1}[i]
		assert.InDelta(t, -side*(left.Struts[i].Length-right.Struts[i].Length)/(2*h), v.Struts[i].RatioRoll, 1e-8)
		assert.Positive(t, v.Struts[i].RatioHeave)
		assert.Positive(t, v.Struts[i].RatioRoll)
	}
}

// A strut on the centre plane belongs to no wheel.
func TestStrutOnTheCentrePlane(t *testing.T) {
	j := demoJob(t, "rescue-tender")
	j.Struts = append(j.Struts, job.Strut{Name: "Middle", Frame: job.Point{0, 0, 900}, Axle: job.Point{0, 0, 400}})
	v, _, _ := at(t, j, 10, 10)
	assert.True(t, math.IsNaN(v.Struts[len(v.Struts)-1].RatioRoll))
	assert.InDelta(t, 1, v.Struts[len(v.Struts)-1].RatioHeave, 0.05)
}
