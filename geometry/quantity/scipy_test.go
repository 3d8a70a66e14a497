package quantity_test

import (
	"fmt"
	"math"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
	"axleloft/testdata/scipy"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// reference is what testdata/scipy/pose.py prints. It shares no code with this project: six unknowns, SciPy's least squares and root finder,
// rates by central differences, joints and shafts by scanning.
type reference struct {
	Singular float64
	Poses    []struct {
		Left         float64  `json:"left_mm"`
		Right        float64  `json:"right_mm"`
		Heave        float64  `json:"heave_mm"`
		Articulation float64  `json:"articulation_deg"`
		X            float64  `json:"x_mm"`
		Y            float64  `json:"y_mm"`
		Z            float64  `json:"z_mm"`
		Steer        float64  `json:"steer_deg"`
		Pitch        float64  `json:"pitch_deg"`
		Roll         float64  `json:"roll_deg"`
		Squareness   float64  `json:"squareness_mm"`
		Wheelbase    float64  `json:"wheelbase_mm"`
		Pinion       float64  `json:"pinion_deg"`
		ICX          *float64 `json:"ic_x_mm"`
		ICZ          *float64 `json:"ic_z_mm"`
		Front        float64  `json:"shaft_front_deg"`
		Rear         float64  `json:"shaft_rear_deg"`
		Slip         float64  `json:"slip_mm"`
		Fluctuation  float64  `json:"fluctuation_pct"`
		Bearing      *float64 `json:"shaft_bearing_deg"`
		Torsional    *float64 `json:"torsional"`
		InertiaFront *float64 `json:"inertia_front"`
		InertiaRear  *float64 `json:"inertia_rear"`
		Worst        float64  `json:"worst_bind"`
		WorstAt      string   `json:"worst_bind_at"`
		Axes         [3][3]float64
		HeaveV       [3]float64 `json:"heave_v"`
		HeaveW       [3]float64 `json:"heave_w"`
		RollV        [3]float64 `json:"roll_v"`
		RollW        [3]float64 `json:"roll_w"`
		Loads        []struct {
			AntiSquat  float64 `json:"anti_squat_pct"`
			AntiLift   float64 `json:"anti_lift_pct"`
			RollCentre float64 `json:"roll_centre_mm"`
			RollAxis   float64 `json:"roll_axis_deg"`
			RollSteer  float64 `json:"roll_steer_pct"`
			Pinion     float64 `json:"pinion_ground_deg"`
		}
		Links   []barFigures
		Arms    []armFigures
		Rockers []rockerFigures
		Sensors []sensorFigures
		Struts  []struct {
			Length, Lean, FrameTilt, AxleTilt, RatioHeave float64
			RatioRoll                                     *float64
		}
		Stops  []struct{ Length, Off float64 }
		Straps []struct{ Length float64 }
		Lines  []struct{ Span float64 }
	}
}

// travels are both wheels together, crossed up and one wheel alone, within what every demo job reaches.
func travels() [][2]float64 {
	var out [][2]float64
	for _, h := range []float64{-115, -90, -60, -30, -10, 0, 10, 30, 55, 85} {
		out = append(out, [2]float64{h, h})
	}
	for _, d := range []float64{20, 60, 100, 140} {
		out = append(out, [2]float64{d, -d}, [2]float64{-d, d}, [2]float64{d, 0}, [2]float64{0, d}, [2]float64{-d, 0}, [2]float64{0, -d})
	}
	return append(out, [2]float64{70, 20}, [2]float64{20, 70}, [2]float64{-80, -20}, [2]float64{-20, -80}, [2]float64{-100, 40}, [2]float64{40, -100})
}

// gauge compares numbers of one kind and remembers the largest difference.
type gauge struct {
	t     *testing.T
	where string
	most  map[string]float64
}

func (g *gauge) near(what string, want, got, tol float64) {
	g.t.Helper()
	d := math.Abs(want - got)
	g.most[what] = max(g.most[what], d)
	if !(d <= tol) {
		g.t.Errorf("%s: %s = %v, SciPy has %v (difference %.2g, allowed %.2g)", g.where, what, got, want, d, tol)
	}
}

func (g *gauge) vec(what string, want [3]float64, got r3.Vec, tol float64) {
	g.t.Helper()
	for i, v := range [3]float64{got.X, got.Y, got.Z} {
		g.near(what, want[i], v, tol)
	}
}

func (g *gauge) maybe(what string, want *float64, got, scale, tol float64) {
	g.t.Helper()
	if want == nil {
		require.True(g.t, math.IsNaN(got), "%s: %s should not exist", g.where, what)
		return
	}
	g.near(what, *want, got*scale, tol)
}

const deg = 180 / math.Pi

// Positions agree to the reference's own convergence, rates to its central differences of 0.01 mm (third derivatives of 1e-5/mm2, in odd layouts
// 1e-4, leave 2e-10 to 2e-9, the convergence 1e-10), angles of ends to round-off.
func compare(t *testing.T, j *job.Job, travels [][2]float64) {
	var ref reference
	scipy.Run(t, j, travels, &ref)
	require.Len(t, ref.Poses, len(travels))
	m, err := motion.Compile(j)
	require.NoError(t, err)
	g := &gauge{t: t, most: map[string]float64{}}
	g.where = "ride"
	g.near("smallest singular value", ref.Singular, m.Singular, 1e-12)
	s := m.NewSolver()
	loads := quantity.Loads(j)
	v := quantity.NewValues(m)
	for i := range ref.Poses {
		w := &ref.Poses[i]
		g.where = fmt.Sprintf("(%v, %v)", w.Left, w.Right)
		var p motion.Pose
		var r motion.Rates
		require.NoError(t, s.Solve(w.Left, w.Right, &p), g.where)
		require.NoError(t, s.Rates(&p, &r), g.where)
		for k, axis := range []r3.Vec{p.Ex, p.Ey, p.Ez} {
			g.vec("axes", w.Axes[k], axis, 1e-11)
		}
		g.vec("heave, velocity", w.HeaveV, r.Heave.V, 1e-8)
		g.vec("heave, turn", w.HeaveW, r.Heave.W, 5e-11)
		g.vec("roll, velocity", w.RollV, r.Roll.V, 1e-8)
		g.vec("roll, turn", w.RollW, r.Roll.W, 5e-11)

		for k := range loads {
			quantity.Eval(m, &p, &r, &loads[k], v)
			l := &w.Loads[k]
			g.near("anti-squat", l.AntiSquat, v.AntiSquatPct, 1e-6)
			g.near("anti-lift", l.AntiLift, v.AntiLiftPct, 1e-6)
			g.near("roll centre", l.RollCentre, v.RollCentre, 1e-5)
			g.near("roll axis", l.RollAxis, v.RollAxisDeg, 1e-6)
			g.near("roll steer", l.RollSteer, v.RollSteerPct, 1e-6)
			g.near("pinion to the ground", l.Pinion, v.PinionGroundDeg, 1e-9)
		}
		g.near("heave", w.Heave, v.Heave, 0)
		g.near("articulation", w.Articulation, v.ArticulationDeg, 1e-12)
		g.near("x", w.X, v.X, 1e-9)
		g.near("y", w.Y, v.Y, 1e-9)
		g.near("z", w.Z, v.Z, 1e-9)
		g.near("steer", w.Steer, v.SteerDeg, 1e-10)
		g.near("pitch", w.Pitch, v.PitchDeg, 1e-10)
		g.near("roll", w.Roll, v.RollDeg, 1e-10)
		g.near("squareness", w.Squareness, v.Squareness, 1e-9)
		g.near("wheelbase", w.Wheelbase, v.Wheelbase, 1e-9)
		g.near("pinion", w.Pinion, v.PinionDeg, 1e-10)
		if w.ICX != nil { // relative: it runs to infinity
			g.near("instant centre, x", 1, v.ICX / *w.ICX, 1e-6)
			g.near("instant centre, z", 1, v.ICZ / *w.ICZ, 1e-6)
		}
		g.near("front joint", w.Front, v.ShaftFrontDeg, 1e-10)
		g.near("rear joint", w.Rear, v.ShaftRearDeg, 1e-10)
		g.near("slip", w.Slip, v.Slip, 1e-9)
		g.near("fluctuation", w.Fluctuation, v.FluctuationPct, 1e-10)
		g.maybe("joint at the bearing", w.Bearing, v.ShaftBearingDeg, 1, 1e-10)
		g.maybe("torsional acceleration", w.Torsional, v.Torsional, 1, 1e-8)
		g.maybe("inertia, first joint", w.InertiaFront, v.InertiaFront, 1, 1e-8)
		g.maybe("inertia, last joint", w.InertiaRear, v.InertiaRear, 1, 1e-8)
		g.near("worst joint", w.Worst, v.WorstBind, 1e-10)
		require.Equal(t, w.WorstAt, quantity.WorstName(m, v), g.where)
		for k := range w.Links {
			require.Equal(t, w.Links[k].Name, m.Links[k].Name)
			g.bar(&w.Links[k], &v.Links[k])
		}
		g.members(m, w.Arms, w.Rockers, w.Sensors, v)
		for k := range w.Struts {
			l, u := &w.Struts[k], &v.Struts[k]
			g.near("strut length", l.Length, u.Length, 1e-9)
			g.near("strut lean", l.Lean, u.Lean*deg, 1e-10)
			g.near("strut tilt", l.FrameTilt, u.FrameTilt*deg, 1e-10)
			g.near("strut tilt", l.AxleTilt, u.AxleTilt*deg, 1e-10)
			g.near("motion ratio", l.RatioHeave, u.RatioHeave, 1e-8)
			g.maybe("motion ratio", l.RatioRoll, u.RatioRoll, 1, 1e-8)
		}
		for k := range w.Stops {
			g.near("stop length", w.Stops[k].Length, v.Stops[k].Length, 1e-9)
			g.near("stop off its axis", w.Stops[k].Off, v.Stops[k].Off, 1e-9)
		}
		for k := range w.Straps {
			g.near("strap length", w.Straps[k].Length, v.Straps[k], 1e-9)
		}
		for k := range w.Lines {
			g.near("line span", w.Lines[k].Span, v.Lines[k], 1e-9)
		}
	}
	for what, d := range g.most {
		t.Logf("%-26s differs by %.1e at most", what, d)
	}
}

func TestSciPyDemos(t *testing.T) {
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			j, _ := demo(t, name)
			compare(t, j, travels())
		})
	}
}

// Everything the demo jobs do not have: the front that stays, a load's own tyre radius, yokes out of phase, free ends that run into their limit
// and ends that share what neither can take.
func TestSciPyVariant(t *testing.T) {
	t.Parallel()
	j, _ := demo(t, assets.Demos()[0])
	j.Vehicle.FrontTravel = "still"
	radius, share := j.Vehicle.Tyre.LoadedRadius-8, 0.7
	j.Vehicle.Loads[0].LoadedRadius = &radius
	j.Vehicle.DriveShare = &share
	j.Driveline.YokePhase = 20
	for i := range j.Links {
		for k, e := range []*job.End{j.Links[i].FrameEnd, j.Links[i].AxleEnd} {
			if e == nil || e.Misalignment == nil || e.Kind == "bush" {
				continue
			}
			tight := []float64{2.5, 5}[(i+k)%2]
			e.Misalignment = &tight
		}
	}
	compare(t, j, travels())
}
