package study

import (
	"errors"
	"math"

	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
)

// PinionChange is how far the pinion turns from one travel of both wheels (mm, bump +) to another, deg, nose up +. The error is a plain sentence: the job has
// no pinion, or the axle cannot stand there.
func PinionChange(j *job.Job, from, to float64) (float64, error) {
	m, err := motion.Compile(j)
	if err != nil {
		return math.NaN(), err
	}
	if !m.Drive.HasPinion {
		return math.NaN(), words.Error("The job has no pinion. Add the driveshaft first.")
	}
	s := m.NewSolver()
	var at [2]float64
	for i, travel := range [2]float64{from, to} {
		var p motion.Pose
		if err := s.Solve(travel, travel, &p); err != nil {
			return math.NaN(), errors.New(sentence(err))
		}
		v := p.Offset(m.Drive.PinionAxis)
		at[i] = math.Atan2(v.Z, v.X) * 180 / math.Pi
	}
	return at[1] - at[0], nil
}

// pinionTol is how near the change kept is met, deg: what a thousandth of a mm of height gives or takes.
const pinionTol = 1e-5

// KeepPinion sets the height of the frame end that keeps the pinion so that its change is as it is kept, up to edit.FarthestHeight from where it is, the
// nearest such height; it tells how far up that was, mm. Where the change was not worked out yet it is noted. A job whose axle cannot stand at the two travels
// is left as it is. The error is a plain sentence, an *edit.Fight where something else holds that height.
func KeepPinion(j *job.Job) (up float64, err error) {
	k, ok := edit.KeptPinion(j)
	if !ok {
		return 0, nil
	}
	now, err := PinionChange(j, k.From, k.To)
	if err != nil {
		return 0, nil // why the axle cannot stand there is said where positions are
	}
	if k.Value == nil {
		edit.SetPinionValue(j, now)
		return 0, nil
	}
	if math.Abs(now-*k.Value) <= pinionTol {
		return 0, nil
	}
	near := math.Abs(now - *k.Value) // how close it comes
	off := func(h float64) float64 {
		c := j.Clone()
		c.Links[k.Link].Frame[2] += h
		v, err := PinionChange(c, k.From, k.To)
		if err != nil {
			return math.NaN()
		}
		near = math.Min(near, math.Abs(v-*k.Value))
		return v - *k.Value
	}
	const step = 10.0
	var lo, hi, flo, fhi [2]float64 // downward, upward
	fhi[0], fhi[1] = now-*k.Value, now-*k.Value
	for n := 0; n*step <= edit.FarthestHeight-step; n++ {
		for way, sign := range [2]float64{-1, 1} {
			lo[way], flo[way] = hi[way], fhi[way]
			hi[way] = sign * step * float64(n+1)
			if math.IsNaN(flo[way]) { // the links end it there
				continue
			}
			if fhi[way] = off(hi[way]); flo[way]*fhi[way] <= 0 {
				h := root(off, lo[way], hi[way], flo[way], fhi[way])
				return h, edit.GiveHeight(j, k.Link, h)
			}
		}
	}
	w := wording{inch: j.Shown != nil && j.Shown.Length == "in"}
	name := edit.Name(j, edit.Pivot{List: edit.Links, Index: k.Link, End: edit.FrameEnd, Side: pairSide(j, k.Link)})
	return 0, words.Errorf("The pinion cannot be kept: with this it would turn %.2f deg from %s to %s, and %.2f is kept; with %s up to %s up or down it comes no nearer than %.2f. Press Keep and leave the pinion, or move less.",
		now, w.travels(k.From, k.From), w.travels(k.To, k.To), *k.Value, name, w.length(edit.FarthestHeight), near)
}

func pairSide(j *job.Job, link int) job.Side {
	if j.Links[link].Pair {
		return job.Left
	}
	return job.Single
}

// root is where f, of unlike sign at a and b, is nothing: the secant while it halves what is left at least, else the middle (the Illinois rule with a
// bisection behind it; M. Dowell and P. Jarratt, "A modified regula falsi method", BIT 11 (1971), 168-174, from memory). To 1e-7 mm.
func root(f func(float64) float64, a, b, fa, fb float64) float64 {
	side := 0
	for range 60 {
		if fa == 0 {
			return a
		}
		if fb == 0 || math.Abs(b-a) < 1e-7 {
			return b
		}
		x := (a*fb - b*fa) / (fb - fa)
		fx := f(x)
		if math.IsNaN(fx) {
			x = (a + b) / 2
			if fx = f(x); math.IsNaN(fx) {
				return b
			}
		}
		if math.Abs(fx) < 1e-10 {
			return x
		}
		if fx*fb < 0 {
			a, fa = b, fb
			b, fb = x, fx
			side = 0
			continue
		}
		b, fb = x, fx
		if side++; side > 1 {
			fa /= 2
		}
	}
	return b
}
