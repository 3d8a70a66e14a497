package clearance

import (
	"math"
	"strings"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// bolted is an invented job with a plate beside a frame end and one beside an axle end.
const bolted = `{"format": "axleloft-job", "version": 1, "title": "Bolts",
 "vehicle": {"wheelbase": 2800, "track": 1500, "tyre": {"loadedRadius": 350}},
 "links": [
  {"name": "Lower", "pair": true, "frame": [900, 500, 400], "axle": [0, 500, 400], "tube": {"outside": 50, "wall": 5},
   "frameEnd": {"kind": "bush", "bolt": [0, 2, 0], "boltOut": {"length": 120, "across": 30, "grip": 80, "way": "left"}}, "axleEnd": {"kind": "bush", "boltOut": {"length": 100, "across": 24, "grip": 60}}},
  {"name": "Upper", "pair": true, "frame": [700, 420, 620], "axle": [0, 120, 650]}],
 "envelopes": [{"name": "Plate", "kind": "box", "pair": true, "min": [800, 640, 300], "max": [1000, 650, 500]},
  {"name": "Ball", "kind": "ball", "centre": [0, 300, 520], "radius": 40}],
 "travel": {"bump": 80, "droop": 90, "articulation": 6}}`

func boltsOut(t *testing.T, file string) (*motion.Mechanism, *Model, []BoltOut) {
	t.Helper()
	j, err := job.Read(strings.NewReader(file))
	require.NoError(t, err)
	m, err := motion.Compile(j)
	require.NoError(t, err)
	c, err := Compile(j, m)
	require.NoError(t, err)
	return m, c, c.BoltsOut(j)
}

// Of a pair the twin's bolt goes its mirrored way; a bolt that may go either way has two; the bar begins at what is clamped and ends where the bolt is out.
func TestWaysOut(t *testing.T) {
	m, _, list := boltsOut(t, bolted)
	said := map[string][]string{}
	for _, o := range list {
		said[m.Joints[o.Joint].Name] = append(said[m.Joints[o.Joint].Name], o.Way)
	}
	assert.Equal(t, map[string][]string{"Lower left, frame end": {"left"}, "Lower right, frame end": {"right"}, "Lower left, axle end": {"left", "right"}, "Lower right, axle end": {"left", "right"}}, said)
	var pose motion.Pose
	require.NoError(t, m.NewSolver().Solve(0, 0, &pose))
	for _, o := range list {
		bar := o.Bar(&pose)
		if m.Joints[o.Joint].Name == "Lower left, frame end" {
			assert.Equal(t, 15.0, bar.Radius)
			assert.InDelta(t, 0, r3.Norm(r3.Sub(bar.A, r3.Vec{X: 900, Y: 555, Z: 400})), 1e-9)
			assert.InDelta(t, 0, r3.Norm(r3.Sub(bar.B, r3.Vec{X: 900, Y: 660, Z: 400})), 1e-9)
		}
	}
}

// A plate square to the bolt, 140 to 150 beside the pivot, leaves 140 less 40 of grip less the bolt's 120 and the round end's 15: 35 mm short. The ball is
// 200 beside and 120 over the axle end: from the bolt's bar, 160 long to 130 beside, to its middle hypot(70, 120), less both radii. At bump the axle's pivot is
// as much nearer to the ball as it rises.
func TestBlockedByClosedForm(t *testing.T) {
	m, c, list := boltsOut(t, bolted)
	s := m.NewSolver()
	sc := c.NewScratch()
	for _, travel := range []float64{0, 60, -60} {
		var pose motion.Pose
		require.NoError(t, s.Solve(travel, travel, &pose))
		sc.Place(&pose, nil)
		for _, o := range list {
			gap, part := sc.Blocked(&o, &pose)
			require.GreaterOrEqual(t, part, 0)
			name := c.Parts[part].Name
			switch m.Joints[o.Joint].Name {
			case "Lower left, frame end":
				assert.Equal(t, "Plate left", name)
				assert.InDelta(t, -35, gap, 1e-6)
			case "Lower right, frame end":
				assert.Equal(t, "Plate right", name)
				assert.InDelta(t, -35, gap, 1e-6)
			case "Lower left, axle end":
				if o.Way != "right" {
					continue
				}
				at := pose.Point(m.Links[0].Axle)
				end := r3.Vec{X: at.X, Y: at.Y, Z: at.Z}
				d := r3.Scale(-1, pose.Ey)
				along := math.Min(130, math.Max(42, r3.Dot(r3.Sub(r3.Vec{Y: 300, Z: 520}, end), d)))
				want := r3.Norm(r3.Sub(r3.Vec{Y: 300, Z: 520}, r3.Add(end, r3.Scale(along, d)))) - 40 - 12
				if name == "Ball" {
					assert.InDelta(t, want, gap, 1e-9)
				} else {
					assert.Less(t, gap, want)
				}
			}
		}
	}
}

// A way the bolt hardly goes takes the nearer of the two; without a bolt given its own direction counts; words outside the list are refused by the reader.
func TestWayOfALeaningBolt(t *testing.T) {
	_, _, list := boltsOut(t, strings.Replace(bolted, `"bolt": [0, 2, 0]`, `"bolt": [1, 3, 0]`, 1))
	assert.Equal(t, "left", list[0].Way)
	assert.InDelta(t, 3/math.Sqrt(10), r3.Unit(list[0].bar.B).Y, 1e-12)
	_, _, list = boltsOut(t, strings.Replace(bolted, `"way": "left"`, `"way": "up"`, 1))
	assert.Len(t, list, 8, "square to what is asked, both ways may do")
	_, err := job.Read(strings.NewReader(strings.Replace(bolted, `"way": "left"`, `"way": "outward"`, 1)))
	assert.ErrorContains(t, err, "forward")
	_, err = job.Read(strings.NewReader(strings.Replace(bolted, `"length": 120, `, ``, 1)))
	assert.ErrorContains(t, err, "length")
}
