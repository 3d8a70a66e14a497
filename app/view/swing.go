package view

import (
	"math"

	"axleloft/geometry/motion"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"gonum.org/v1/gonum/spatial/r3"
)

// How far a free motion is shown to swing either way: as far as can be seen, within what still looks like a motion about ride height.
const (
	swingSeen  = 14.0  // units
	swingLeast = 20.0  // mm
	swingMost  = 120.0 // mm
	perMetre   = 1000.0
)

// swung is the job with its axle moved from ride height by mm along a free motion, at the wheel centre or axle centre that it moves most.
func (st *stage) swung(f motion.Free, mm float64) stage {
	out := *st
	out.there, out.levers = false, nil
	out.pose = ridePose(st.radius)
	v, w := r3.Vec{X: f[0], Y: f[1], Z: f[2]}, r3.Scale(1/perMetre, r3.Vec{X: f[3], Y: f[4], Z: f[5]})
	half := 0.0
	if st.job.Vehicle != nil {
		half = st.job.Vehicle.Track / 2
	}
	most := 0.0
	for _, r := range []r3.Vec{{}, {Y: half}, {Y: -half}, {Z: st.radius}} {
		most = math.Max(most, r3.Norm(r3.Add(v, r3.Cross(w, r))))
	}
	if !(most > 0) {
		return out
	}
	k := mm / most
	out.pose.C = r3.Add(out.pose.C, r3.Scale(k, v))
	if turn := k * r3.Norm(w); turn != 0 {
		for _, e := range []*r3.Vec{&out.pose.Ex, &out.pose.Ey, &out.pose.Ez} {
			*e = r3.Rotate(*e, turn, w)
		}
	}
	return out
}

// Swing is a free motion of an axle that nothing holds, as lines over the picture: the axle, and all that follows it, at a phase from -1 to 1 of its
// swing about ride height. What does not move is left out.
func (s *Scene) Swing(t Transform, f motion.Free, phase float64) []drawing.Item {
	if s.job == nil {
		return nil
	}
	mm := math.Max(swingLeast, math.Min(swingMost, swingSeen/t.Scale))
	ride := s.stage
	ride.pose, ride.there, ride.levers = ridePose(s.radius), false, nil
	now := ride.swung(f, phase*mm)
	end := ride.swung(f, mm) // what moves at all, moves there
	still, far, runs := allRuns(&ride), allRuns(&end), allRuns(&now)
	room := box{0, 0, t.Size.W, t.Size.H}
	var out []drawing.Item
	for i := range runs {
		if !apart(still[i].pts, far[i].pts) {
			continue
		}
		for _, run := range clipLines(room.grown(2), s.screen(t, s.flats(runs[i].pts...)), false) {
			out = append(out, drawing.Item{Kind: drawing.Line, Layer: drawing.Trouble, Stroke: ink.Trouble, Fill: ink.None, Width: light + 0.5, Points: run, Name: runs[i].name})
		}
	}
	return out
}

func allRuns(st *stage) []run { return append(st.axleRuns(), st.runs()...) }

// SwingSeen is how far a free motion is seen to move the axle in a view, mm for each mm of it: the view that shows most of it tells it best.
func SwingSeen(p Plane, f motion.Free) float64 {
	v, w := r3.Vec{X: f[0], Y: f[1], Z: f[2]}, r3.Scale(1/perMetre, r3.Vec{X: f[3], Y: f[4], Z: f[5]})
	most := 0.0
	for _, r := range []r3.Vec{{}, {X: perMetre}, {Y: perMetre}, {Z: perMetre}} {
		a, b := p.Project(r3.Add(v, r3.Cross(w, r)))
		most = math.Max(most, math.Hypot(a, b))
	}
	return most
}
