package quantity_test

import (
	"math"
	"reflect"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// mirrored is a job seen in a mirror on the centre plane: every place and direction reflected, every turn about one reversed.
func mirrored(j *job.Job) *job.Job {
	m := job.Expand(j).Job
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		if p, ok := v.Interface().(job.Point); ok {
			v.Set(reflect.ValueOf(p.Mirror()))
			return
		}
		switch v.Kind() {
		case reflect.Pointer:
			if !v.IsNil() {
				walk(v.Elem())
			}
		case reflect.Slice:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i))
			}
		}
	}
	walk(reflect.ValueOf(m).Elem())
	m.Envelopes = nil
	for i := range m.Links {
		if c := m.Links[i].Clock; c != nil {
			*c = -*c
		}
	}
	for i := range m.Sensors {
		m.Sensors[i].Swing = nil
	}
	if d := m.Driveline; d != nil {
		d.YokePhase = -d.YokePhase
		if d.Bearing != nil {
			d.Bearing.YokePhase = -d.Bearing.YokePhase
		}
	}
	return m
}

// Every layout and its mirror image, with the travels changed over: what has a side changes its sign, the rest stays; turns about a mirrored axis
// are the opposite ones.
func TestMirrorImageOfEveryLayout(t *testing.T) {
	for name, j := range layouts(t) {
		image := mirrored(j)
		for _, w := range [][2]float64{{60, -40}, {-70, -10}, {35, 80}} {
			a, _, _ := at(t, j, w[0], w[1])
			b, _, _ := at(t, image, w[1], w[0])
			same := func(what string, x, y float64) {
				t.Helper()
				if math.IsNaN(x) && math.IsNaN(y) {
					return
				}
				assert.InDelta(t, x, y, 1e-7*(1+math.Abs(x)), "%s at %v: %s", name, w, what)
			}
			end := func(what string, x, y float64, u, v float64) {
				t.Helper()
				same(what+", misalignment", x, y)
				same(what+", torsion", math.Abs(u), math.Abs(v)) // a bolt that is not given points the other way in the mirror
			}
			same("y", a.Y, -b.Y)
			same("steer", a.SteerDeg, -b.SteerDeg)
			same("squareness", a.Squareness, -b.Squareness)
			same("roll", a.RollDeg, -b.RollDeg)
			same("x", a.X, b.X)
			same("pinion", a.PinionDeg, b.PinionDeg)
			same("pinion to ground", a.PinionGroundDeg, b.PinionGroundDeg)
			same("anti-squat", a.AntiSquatPct, b.AntiSquatPct)
			same("roll centre", a.RollCentre, b.RollCentre)
			same("roll steer", a.RollSteerPct, b.RollSteerPct)
			same("slip", a.Slip, b.Slip)
			same("joint at the bearing", a.ShaftBearingDeg, b.ShaftBearingDeg)
			same("fluctuation", a.FluctuationPct, b.FluctuationPct)
			same("torsional", a.Torsional, b.Torsional)
			same("worst joint", a.WorstBind, b.WorstBind)
			for i := range a.Links {
				x, y := &a.Links[i], &b.Links[i]
				same("force of a link", x.Force, y.Force)
				same("spin", x.Spin, -y.Spin)
				end("link", x.FrameEnd.Misalignment, y.FrameEnd.Misalignment, x.FrameEnd.Torsion, y.FrameEnd.Torsion)
				end("link", x.AxleEnd.Misalignment, y.AxleEnd.Misalignment, x.AxleEnd.Torsion, y.AxleEnd.Torsion)
			}
			for i := range a.Arms {
				x, y := &a.Arms[i], &b.Arms[i]
				for k := range x.Ends {
					end("arm", x.Ends[k].Misalignment, y.Ends[k].Misalignment, x.Ends[k].Torsion, y.Ends[k].Torsion)
				}
				for k := range x.GiveForces {
					same("force of a give", x.GiveForces[k], y.GiveForces[k])
				}
				for k := range x.Forces {
					same("force of a bar", x.Forces[k], y.Forces[k])
				}
			}
			for i := range a.Rockers {
				x, y := &a.Rockers[i], &b.Rockers[i]
				same("turn of a rocker", x.Turn, -y.Turn)
				for k := range x.Rods {
					end("rod", x.Rods[k].FrameEnd.Misalignment, y.Rods[k].FrameEnd.Misalignment, x.Rods[k].FrameEnd.Torsion, y.Rods[k].FrameEnd.Torsion)
					end("rod", x.Rods[k].AxleEnd.Misalignment, y.Rods[k].AxleEnd.Misalignment, x.Rods[k].AxleEnd.Torsion, y.Rods[k].AxleEnd.Torsion)
				}
			}
			for i := range a.Sensors {
				require.Equal(t, a.Sensors[i].Reached, b.Sensors[i].Reached)
				same("lever", a.Sensors[i].Turn, -b.Sensors[i].Turn)
				same("sensor's rod", a.Sensors[i].RodAngle, b.Sensors[i].RodAngle)
			}
			for i := range a.Struts {
				same("strut", a.Struts[i].Length, b.Struts[i].Length)
				same("tilt", a.Struts[i].AxleTilt, b.Struts[i].AxleTilt)
				same("ratio", a.Struts[i].RatioHeave, b.Struts[i].RatioHeave)
				same("ratio in roll", a.Struts[i].RatioRoll, b.Struts[i].RatioRoll)
			}
		}
	}
}
