package quantity_test

import (
	"math/rand/v2"
	"reflect"
	"testing"

	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
	"axleloft/testdata/scipy"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// What the reference prints of a bar, an arm, a rocker, a sensor: mm, N, deg.
type (
	endFigures struct {
		Misalignment float64
		Torsion      *float64
		Utilisation  *float64
	}
	barFigures struct {
		Name                         string
		Length, Stretch, Force, Spin float64
		FrameEnd, AxleEnd            endFigures
	}
	armFigures struct {
		Name                                          string
		Ends                                          []endFigures
		Lengths, Stretches, Forces, Gives, GiveForces []float64
	}
	rockerFigures struct {
		Name string
		Turn float64
		Rods []barFigures
	}
	sensorFigures struct {
		Name     string
		Turn     *float64
		RodAngle *float64
	}
)

func (g *gauge) end(w *endFigures, u *quantity.EndUse) {
	g.t.Helper()
	g.near("misalignment", w.Misalignment, u.Misalignment*deg, 1e-9)
	g.maybe("torsion", w.Torsion, u.Torsion, deg, 1e-10)
	g.maybe("joint use", w.Utilisation, u.Use, 1, 1e-10)
}

func (g *gauge) bar(w *barFigures, u *quantity.LinkUse) {
	g.t.Helper()
	g.near("length of a bar", w.Length, u.Length, 1e-9)
	g.near("stretch", w.Stretch, u.Stretch, 2e-9)
	g.near("force", w.Force, u.Force, 1e-5)
	g.end(&w.FrameEnd, &u.FrameEnd)
	g.end(&w.AxleEnd, &u.AxleEnd)
}

func (g *gauge) list(what string, want, got []float64, tol float64) {
	g.t.Helper()
	require.Len(g.t, got, len(want), "%s: %s", g.where, what)
	for i := range want {
		g.near(what, want[i], got[i], tol)
	}
}

func (g *gauge) members(m *motion.Mechanism, arms []armFigures, rockers []rockerFigures, sensors []sensorFigures, v *quantity.Values) {
	g.t.Helper()
	require.Len(g.t, v.Arms, len(arms))
	require.Len(g.t, v.Rockers, len(rockers))
	require.Len(g.t, v.Sensors, len(sensors))
	for i := range arms {
		w, u := &arms[i], &v.Arms[i]
		require.Equal(g.t, w.Name, m.Arms[i].Name)
		require.Len(g.t, u.Ends, len(w.Ends))
		for k := range w.Ends {
			g.end(&w.Ends[k], &u.Ends[k])
		}
		g.list("length of an arm's bar", w.Lengths, u.Lengths, 1e-9)
		g.list("stretch", w.Stretches, u.Stretches, 2e-9)
		g.list("force", w.Forces, u.Forces, 1e-5)
		g.list("give", w.Gives, u.Gives, 2e-9)
		g.list("force of a give", w.GiveForces, u.GiveForces, 1e-5)
	}
	for i := range rockers {
		require.Equal(g.t, rockers[i].Name, m.Rockers[i].Name)
		g.near("turn of a rocker", rockers[i].Turn, v.Rockers[i].Turn*deg, 1e-10)
		for k := range rockers[i].Rods {
			require.Equal(g.t, rockers[i].Rods[k].Name, m.Rockers[i].Rods[k].Name)
			g.bar(&rockers[i].Rods[k], &v.Rockers[i].Rods[k])
		}
	}
	for i := range sensors {
		w, u := &sensors[i], &v.Sensors[i]
		require.Equal(g.t, w.Name, m.Sensors[i].Name)
		require.Equal(g.t, w.Turn != nil, u.Reached, "%s: %s reached", g.where, w.Name)
		g.maybe("turn of a lever", w.Turn, u.Turn, deg, 1e-9)
		g.maybe("angle of a sensor's rod", w.RodAngle, u.RodAngle, deg, 1e-9)
	}
}

// layouts are the jobs of testdata/layouts by their names.
func layouts(t testing.TB) map[string]*job.Job { return scipy.Layouts(t) }

// every is both wheels up, both down, crossed up both ways, one wheel alone and positions of no pattern, inside what every layout reaches.
func every() [][2]float64 {
	return [][2]float64{{80, 80}, {-95, -95}, {95, -85}, {-85, 95}, {70, 0}, {0, -80}, {-13.7, 41.9}, {-102, -44}}
}

func TestSciPyLayouts(t *testing.T) {
	for name, j := range layouts(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			compare(t, j, every())
		})
	}
}

// A sensor whose rod is too short for the travel cannot reach in droop; the reference says so at the same positions.
func TestSciPySensorOutOfReach(t *testing.T) {
	j := layouts(t)["three-link-panhard"]
	s := &j.Sensors[0]
	s.Lever, s.Far = job.Point{s.Shaft[0] + 60, s.Shaft[1], s.Shaft[2]}, job.Point{s.Shaft[0] + 70, s.Shaft[1] + 20, s.Shaft[2] - 90}
	var ref reference
	scipy.Run(t, j, every(), &ref)
	reached := map[bool]int{}
	for _, p := range ref.Poses {
		reached[p.Sensors[0].Turn != nil]++
	}
	require.Positive(t, reached[true])
	require.Positive(t, reached[false])
	compare(t, j, every())
}

// The layouts with every pivot, bolt and foot off at random, so that nothing is square, level or the same left and right: what a symmetrical job
// could hide by signs that cancel. The seed is fixed.
func TestSciPyShaken(t *testing.T) {
	for name, j := range layouts(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			rng := rand.New(rand.NewPCG(5, uint64(len(name))))
			for {
				x := shaken(rng, j)
				if len(job.Check(x)) > 0 {
					continue
				}
				if m, err := motion.Compile(x); err != nil || m.PoorlyHeld != "" {
					continue
				}
				compare(t, x, [][2]float64{{0, 0}, {55, 70}, {-80, -60}, {75, -50}, {-50, 65}})
				return
			}
		})
	}
}

// shaken is a job without pairs, its places off by up to 25 mm in each direction and its directions by up to a quarter.
func shaken(rng *rand.Rand, j *job.Job) *job.Job {
	x := job.Expand(j).Job
	v := reflect.ValueOf(x).Elem()
	for _, part := range []string{"Links", "Arms", "Rockers", "Struts", "Stops", "Straps", "Lines", "Sensors", "Driveline"} {
		points(v.FieldByName(part), func(p *job.Point) {
			size := 25.0
			if r3.Norm(p.Vec()) < 2 { // a direction
				size = 0.25
			}
			for a := range p {
				p[a] += size * (2*rng.Float64() - 1)
			}
		})
	}
	return x
}
