package limits_test

import (
	"context"
	"math"
	"testing"

	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
	"axleloft/testdata/scipy"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// met is what the reference prints of everything that can stop an axle: mm, deg.
type met struct {
	Struts, Stops, Straps []struct{ Length float64 }
	Links                 []barMet
	Arms                  []struct{ Ends []endMet }
	Rockers               []struct{ Rods []barMet }
	Front                 float64  `json:"shaft_front_deg"`
	Rear                  float64  `json:"shaft_rear_deg"`
	Bearing               *float64 `json:"shaft_bearing_deg"`
	Slip                  float64  `json:"slip_mm"`
}

type endMet struct {
	Misalignment float64
	Torsion      *float64
}

type barMet struct{ FrameEnd, AxleEnd endMet }

// over is by how much a limit is overrun, mm or deg; below 0 it is not reached.
func (p *met) over(m *motion.Mechanism, b *limits.By) float64 {
	const deg = 180 / math.Pi
	switch b.Cause {
	case limits.StrutClosed:
		return m.Struts[b.Index].Closed - p.Struts[b.Index].Length
	case limits.StrutOpen:
		return p.Struts[b.Index].Length - m.Struts[b.Index].Open
	case limits.StopSolid:
		return m.Stops[b.Index].Closed - p.Stops[b.Index].Length
	case limits.RubberTouch:
		return m.Stops[b.Index].Touch - p.Stops[b.Index].Length
	case limits.StrapTaut:
		return p.Straps[b.Index].Length - m.Straps[b.Index].Open
	case limits.ShaftLimit:
		at := map[int]*float64{limits.ShaftFront: &p.Front, limits.ShaftRear: &p.Rear, limits.ShaftBearing: p.Bearing}[b.Index]
		return *at - m.Drive.JointLimit*deg
	case limits.SlipUsed:
		return []float64{-p.Slip - m.Drive.SlipIn, p.Slip - m.Drive.SlipOut}[b.Index]
	case limits.JointLimit:
		j := &m.Joints[b.Index]
		var e *endMet
		bar := func(l *barMet) *endMet { return []*endMet{&l.FrameEnd, &l.AxleEnd}[j.Sub%2] }
		switch j.Of {
		case motion.OnLink:
			e = bar(&p.Links[j.Member])
		case motion.OnArm:
			e = &p.Arms[j.Member].Ends[j.Sub]
		default:
			e = bar(&p.Rockers[j.Member].Rods[j.Sub/2])
		}
		if b.Torsion {
			return math.Abs(*e.Torsion) - j.End.TorLimit*deg
		}
		return e.Misalignment - j.End.MisLimit*deg
	}
	return 0
}

// What the ring says is met is at its limit there by the independent calculation, and where the first of it is met no other limit of that ray is
// overrun. Rays are followed to 1e-6 mm; an end tilts by less than a degree a mm.
func TestRingAgainstSciPy(t *testing.T) {
	for name, j := range scipy.Layouts(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			m, err := motion.Compile(j)
			require.NoError(t, err)
			r, err := limits.Find(m, 96)
			require.NoError(t, err)
			ring, err := limits.Ring(context.Background(), m, nil, r, 1)
			require.NoError(t, err)
			step := 3 // every 45 deg
			for i := range m.Arms {
				if m.Arms[i].Radius { // the reference takes its time
					step = 6
				}
			}
			var list []limits.By
			var first []bool
			var same []limits.Ray
			var travels [][2]float64
			add := func(b limits.By, f bool, ray limits.Ray) {
				list, first, same = append(list, b), append(first, f), append(same, ray)
				travels = append(travels, [2]float64{b.Left, b.Right})
			}
			for i := 0; i < len(ring); i += step {
				for k, b := range ring[i].By {
					if k < 3 && b.Cause != limits.EnteredLimit && b.Cause != limits.NoAssembly || k == 0 {
						add(b, k == 0, ring[i])
					}
				}
				for _, b := range ring[i].Rubber {
					add(b, false, ring[i])
				}
			}
			var ref struct{ Poses []met }
			scipy.Run(t, j, travels, &ref)
			require.Len(t, ref.Poses, len(list))
			for i := range list {
				p := &ref.Poses[i]
				assert.InDelta(t, 0, p.over(m, &list[i]), 2e-6, "%s at %v", list[i].What, travels[i])
				if first[i] {
					for _, b := range same[i].By {
						assert.LessOrEqual(t, p.over(m, &b), 2e-6, "%s is overrun where %s is met first, at %v", b.What, list[i].What, travels[i])
					}
				}
			}
		})
	}
}
