package quantity_test

import (
	"bytes"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"

	"github.com/stretchr/testify/require"
)

// wholeJobs are the demo jobs and the layouts, in a fixed order.
func wholeJobs(t testing.TB) [][]byte {
	t.Helper()
	var all [][]byte
	for _, name := range assets.Demos() {
		all = append(all, assets.Demo(name))
	}
	files, err := filepath.Glob("../../testdata/layouts/*.axleloft")
	require.NoError(t, err)
	slices.Sort(files)
	for _, f := range files {
		b, err := os.ReadFile(f)
		require.NoError(t, err)
		all = append(all, b)
	}
	return all
}

// points calls do for every place and direction of the parts that are moved or measured.
func points(v reflect.Value, do func(p *job.Point)) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			points(v.Elem(), do)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			points(v.Field(i), do)
		}
	case reflect.Slice:
		for i := range v.Len() {
			points(v.Index(i), do)
		}
	case reflect.Array:
		if p, ok := v.Addr().Interface().(*job.Point); ok {
			do(p)
		}
	}
}

// told checks that no figure in v is infinite; a figure that does not exist is NaN, which is why angles, lengths and uses are looked at again
// where they must exist.
func told(t *testing.T, v reflect.Value, path string) {
	switch v.Kind() {
	case reflect.Float64:
		if math.IsInf(v.Float(), 0) {
			t.Errorf("%s is infinite", path)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			told(t, v.Field(i), path+"."+v.Type().Field(i).Name)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			told(t, v.Index(i), path+"[]")
		}
	}
}

// FuzzQuantities takes whole jobs, moves every pivot and direction about (or one in four of them, or by a hair), and asks for every figure at any
// travel under every load: a job is complained of, refused in words, or every figure that must exist is a number in its range.
func FuzzQuantities(f *testing.F) {
	for i := range 19 {
		f.Add(uint64(i), uint8(i), 25.0, 60.0, -35.0, uint8(i))
	}
	f.Add(uint64(1), uint8(3), 0.0, 0.0, 0.0, uint8(0))
	f.Add(uint64(2), uint8(7), 900.0, 100.0, 100.0, uint8(1))
	f.Add(uint64(3), uint8(12), 1e-9, -140.0, 120.0, uint8(2))
	f.Add(uint64(4), uint8(16), 150.0, 400.0, 380.0, uint8(3))
	f.Add(uint64(5), uint8(18), 60.0, math.NaN(), math.Inf(1), uint8(4))
	jobs := wholeJobs(f)
	f.Fuzz(func(t *testing.T, seed uint64, which uint8, spread, left, right float64, how uint8) {
		if !(math.Abs(spread) <= 1e5) { // what a job file may hold
			t.Skip()
		}
		j, err := job.Read(bytes.NewReader(jobs[int(which)%len(jobs)]))
		require.NoError(t, err)
		j.Trials = nil
		rng := rand.New(rand.NewPCG(seed, uint64(how)))
		v := reflect.ValueOf(j).Elem()
		for _, part := range []string{"Links", "Arms", "Rockers", "Struts", "Stops", "Straps", "Lines", "Sensors", "Driveline"} {
			points(v.FieldByName(part), func(p *job.Point) {
				if how%4 == 1 && rng.IntN(4) > 0 {
					return
				}
				for a := range p {
					if how%8 != 2 || a == int(seed%3) {
						p[a] += spread * rng.NormFloat64()
					}
				}
			})
		}
		if how%3 == 2 {
			j.Vehicle.FrontTravel = "still"
		}
		if how%5 == 4 {
			j.Axle.Pinion.Axis[2] += 0.1 * rng.NormFloat64()
		}
		if len(job.Check(j)) > 0 {
			return
		}
		var e *motion.Error
		m, err := motion.Compile(j)
		if err != nil {
			require.True(t, errors.As(err, &e), "%v", err)
			require.NotEmpty(t, e.Words)
			return
		}
		s := m.NewSolver()
		var p motion.Pose
		if err := s.Solve(left, right, &p); err != nil {
			require.True(t, errors.As(err, &e), "%v", err)
			require.NotEmpty(t, e.Words)
			if e.Kind == motion.BadTravel {
				return
			}
		}
		var r motion.Rates
		if err := s.Rates(&p, &r); err != nil {
			require.True(t, errors.As(err, &e), "%v", err)
			return
		}
		out := quantity.NewValues(m)
		for _, load := range quantity.Loads(j) {
			quantity.Eval(m, &p, &r, &load, out)
			figures(t, m, out)
		}
	})
}

// figures checks the figures of one position that can be checked without knowing the job.
func figures(t *testing.T, m *motion.Mechanism, v *quantity.Values) {
	t.Helper()
	told(t, reflect.ValueOf(v).Elem(), "values")
	between := func(what string, x, lo, hi float64) {
		t.Helper()
		if !(x >= lo && x <= hi) {
			t.Errorf("%s is %v, not from %v to %v", what, x, lo, hi)
		}
	}
	const far = 1e9 // mm: further than any place a job may hold
	for what, x := range map[string]float64{"x": v.X, "y": v.Y, "z": v.Z, "squareness": v.Squareness, "wheelbase": v.Wheelbase} {
		between(what, x, -far, far)
	}
	for what, x := range map[string]float64{"steer": v.SteerDeg, "pitch": v.PitchDeg, "roll": v.RollDeg, "pinion": v.PinionDeg, "roll axis": v.RollAxisDeg} {
		between(what, x, -180, 180)
	}
	for what, x := range map[string]float64{"front joint": v.ShaftFrontDeg, "rear joint": v.ShaftRearDeg} {
		between(what, x, 0, 180)
	}
	if sharpest := max(v.ShaftFrontDeg, v.ShaftRearDeg); sharpest < 90 && !(v.ShaftBearingDeg >= 90) {
		between("fluctuation", v.FluctuationPct, 0, math.MaxFloat64)
	} else if !math.IsNaN(v.FluctuationPct) {
		t.Errorf("a joint at %v and %v deg turns nothing, yet the fluctuation is %v", v.ShaftFrontDeg, v.ShaftRearDeg, v.FluctuationPct)
	}
	for i := range m.Joints {
		n := &m.Joints[i]
		u := v.Joint(n)
		between(n.Name+", misalignment", u.Misalignment, 0, math.Pi/2)
		if n.End.Kind == motion.Bush {
			between(n.Name+", torsion", u.Torsion, -math.Pi, math.Pi)
		} else if !math.IsNaN(u.Torsion) {
			t.Errorf("%s is no bush and has torsion %v", n.Name, u.Torsion)
		}
		if !math.IsNaN(n.End.MisLimit) {
			between(n.Name+", use", u.Use, u.Misalignment/n.End.MisLimit*(1-1e-12), math.MaxFloat64)
		}
		if u.Use > v.WorstBind*(1+1e-9) || !math.IsNaN(u.Use) && math.IsNaN(v.WorstBind) {
			t.Errorf("%s: use %v above the worst, %v", n.Name, u.Use, v.WorstBind)
		}
	}
	for i := range m.Distances {
		between(m.Distances[i].Name+", stretch", v.Stretch(&m.Distances[i]), -far, far)
	}
	for i := range m.Struts {
		u := &v.Struts[i]
		between(m.Struts[i].Name+", length", u.Length, 0, far)
		between(m.Struts[i].Name+", lean", u.Lean, 0, math.Pi/2)
		between(m.Struts[i].Name+", tilt", u.AxleTilt, 0, math.Pi)
		between(m.Struts[i].Name+", ratio", u.RatioHeave, -far, far)
	}
	for i := range m.Sensors {
		u := &v.Sensors[i]
		if u.Reached {
			between(m.Sensors[i].Name+", turn", u.Turn, -math.Pi, math.Pi)
			between(m.Sensors[i].Name+", rod", u.RodAngle, 0, math.Pi)
		} else if !math.IsNaN(u.Turn) || !math.IsNaN(u.RodAngle) {
			t.Errorf("%s cannot reach and has figures", m.Sensors[i].Name)
		}
	}
	for i := range m.Rockers {
		between(m.Rockers[i].Name+", turn", v.Rockers[i].Turn, -math.Pi, math.Pi)
	}
}
