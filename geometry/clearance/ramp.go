package clearance

import (
	"math"
	"slices"

	"axleloft/geometry/quantity"
	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

// Side is the vehicle seen from the side: x forward along the ground from below this axle's wheels, z up from the ground, mm. Both axles' wheels are
// circles of the loaded radius that stand on the ground at x = 0 and x = Wheelbase.
//
// The angles are those of ISO 612:1978 (approach 6.10, departure 6.11, ramp 6.9; numbers from memory): planes square to the side view that touch the
// wheels and the vehicle's lowest part between or beyond them.
type Side struct {
	Ground quantity.Ground
	Radius float64 // loaded, of the load
}

// point takes a point of the body to the side view.
func (s *Side) point(p r3.Vec) [2]float64 {
	d := r3.Sub(p, s.Ground.Contact)
	return [2]float64{r3.Dot(d, s.Ground.Ex), r3.Dot(d, s.Ground.Ez)}
}

// body takes a point of the side view to the body; y across is the given one.
func (s *Side) body(p [2]float64, y float64) r3.Vec {
	v := r3.Add(s.Ground.Contact, r3.Add(r3.Scale(p[0], s.Ground.Ex), r3.Scale(p[1], s.Ground.Ez)))
	v.Y = y
	return v
}

// slope is the angle to the ground, rad, of the line that runs under a wheel of the given radius and touches it and, a distance u beyond the wheel's
// centre and w above it, a ball of radius r: u sin(d) - w cos(d) = R - r. NaN where there is none: beside or within the wheel's own circle.
func slope(radius, u, w, r float64) float64 {
	far := math.Hypot(u, w)
	if u <= 0 || far <= radius-r || far == 0 {
		return math.NaN()
	}
	return math.Atan2(w, u) + math.Asin(math.Max(-1, (radius-r)/far))
}

// Departure is the angle, rad, between the ground and the plane that touches this axle's wheels from behind and the point; NaN for a point that is not
// behind the wheels' centre or lies within their circle.
func (s *Side) Departure(p r3.Vec) float64 {
	q := s.point(p)
	return slope(s.Radius, -q[0], q[1]-s.Radius, 0)
}

// Approach is the same for the front wheels and a point before them.
func (s *Side) Approach(p r3.Vec) float64 {
	q := s.point(p)
	return slope(s.Radius, q[0]-s.Ground.Wheelbase, q[1]-s.Radius, 0)
}

// Ramp is the angle, rad, between the plane that touches this axle's wheels from before and the one that touches the front wheels from behind where both
// meet in the point: by how much two slopes may fall away from a crest there; NaN for a point that is not between the wheels' centres or lies within a wheel's circle.
func (s *Side) Ramp(p r3.Vec) float64 { return s.ramp(s.point(p)) }

func (s *Side) ramp(q [2]float64) float64 {
	return slope(s.Radius, q[0], q[1]-s.Radius, 0) + slope(s.Radius, s.Ground.Wheelbase-q[0], q[1]-s.Radius, 0)
}

// Touch is the point of a part that gives an angle.
type Touch struct {
	Angle float64 // rad; plus infinity where no part gives one
	Part  int     // -1 where none does
	At    r3.Vec
}

func (t *Touch) take(angle float64, part int, at r3.Vec) {
	if angle < t.Angle {
		*t = Touch{angle, part, at}
	}
}

// Departure is the least departure angle of all parts as placed but the tyres.
func (s *Scratch) Departure(v *Side) Touch {
	least := Touch{Angle: math.Inf(1), Part: -1}
	s.edges(v, func(part int, e *edge) {
		for _, c := range e.ends {
			a := slope(v.Radius, -c.q[0], c.q[1]-v.Radius, e.radius)
			if !(a < least.Angle) {
				continue
			}
			sn, cs := math.Sincos(a)
			least.take(a, part, v.body([2]float64{c.q[0] - e.radius*sn, c.q[1] - e.radius*cs}, c.y))
		}
	})
	return least
}

// Ramp is the least ramp angle of all parts as placed but the tyres, to 1e-6 deg or so.
func (s *Scratch) Ramp(v *Side) Touch {
	least := Touch{Angle: math.Inf(1), Part: -1}
	s.edges(v, func(part int, e *edge) {
		if v.rampAtLeast(e) >= least.Angle {
			return
		}
		a, q, t := v.rampOf(e)
		least.take(a, part, v.body(q, e.ends[0].y+t*(e.ends[1].y-e.ends[0].y)))
	})
	return least
}

// rampAtLeast bounds the ramp angle of an edge from below: either slope grows with the height and with how near its wheel the point is.
func (v *Side) rampAtLeast(e *edge) float64 {
	a, b := e.ends[0].q, e.ends[1].q
	low := math.Min(a[1], b[1]) - e.radius - v.Radius
	back, front := math.Min(a[0], b[0])-e.radius, math.Max(a[0], b[0])+e.radius
	if back <= 0 || front >= v.Ground.Wheelbase || low < -v.Radius {
		return math.Inf(-1)
	}
	bound := slope(v.Radius, front, low, 0) + slope(v.Radius, v.Ground.Wheelbase-back, low, 0)
	if math.IsNaN(bound) {
		return math.Inf(-1)
	}
	return bound
}

const (
	rampSteps = 24               // along an edge and round its ball, before the search narrows
	rampRound = math.Pi * 5 / 12 // rad from straight down: no lowest point of a ball lies further round, the slopes being less
)

// rampOf finds the least ramp angle of an edge, and where: in the side view, and at which part of the edge.
func (v *Side) rampOf(e *edge) (angle float64, at [2]float64, part float64) {
	a, b := e.ends[0].q, e.ends[1].q
	round := func(c [2]float64) (float64, [2]float64) {
		if e.radius == 0 {
			return v.ramp(c), c
		}
		point := func(k float64) [2]float64 {
			sn, cs := math.Sincos(k)
			return [2]float64{c[0] + e.radius*sn, c[1] - e.radius*cs}
		}
		value, k := narrow(-rampRound, rampRound, func(k float64) float64 { return v.ramp(point(k)) })
		return value, point(k)
	}
	along := func(t float64) [2]float64 { return [2]float64{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])} }
	if a == b {
		angle, at = round(a)
		return angle, at, 0
	}
	angle, part = narrow(0, 1, func(t float64) float64 { value, _ := round(along(t)); return value })
	_, at = round(along(part))
	return angle, at, part
}

// narrow finds the least of f between lo and hi: the best of some steps, then by golden section between its neighbours. NaN counts as nothing there; plus
// infinity where there is nothing at all.
func narrow(lo, hi float64, f func(float64) float64) (least, at float64) {
	g := func(x float64) float64 {
		if v := f(x); !math.IsNaN(v) {
			return v
		}
		return math.Inf(1)
	}
	least, at = math.Inf(1), lo
	step := (hi - lo) / rampSteps
	for i := range rampSteps + 1 {
		x := lo + float64(i)*step
		if v := g(x); v < least {
			least, at = v, x
		}
	}
	lo, hi = math.Max(lo, at-step), math.Min(hi, at+step)
	const golden = 0.6180339887498949
	x1, x2 := hi-golden*(hi-lo), lo+golden*(hi-lo)
	f1, f2 := g(x1), g(x2)
	for range 40 {
		if f1 < f2 {
			hi, x2, f2 = x2, x1, f1
			x1 = hi - golden*(hi-lo)
			f1 = g(x1)
		} else {
			lo, x1, f1 = x1, x2, f2
			x2 = lo + golden*(hi-lo)
			f2 = g(x2)
		}
	}
	for _, x := range [2]float64{x1, x2} {
		if v := g(x); v < least {
			least, at = v, x
		}
	}
	return least, at
}

// edge is what can touch a plane from above in the side view: a line swollen by a radius.
type edge struct {
	ends   [2]corner
	radius float64
}

// corner is a point in the side view, and where it is across.
type corner struct {
	q [2]float64
	y float64
}

// edges hands out the edges of every part but the tyres: of a bar its centre line, of a polytope the lower chain round its corners, of a mesh its triangles' sides.
func (s *Scratch) edges(v *Side, each func(part int, e *edge)) {
	flat := func(p r3.Vec) corner { return corner{v.point(p), p.Y} }
	for i := range s.model.Parts {
		if !s.model.Parts[i].Stands() {
			continue
		}
		pieces := s.solids[i].Pieces
		for k := range pieces {
			p := &pieces[k]
			switch p.Kind {
			case shape.Point:
				c := flat(p.A)
				each(i, &edge{[2]corner{c, c}, p.Radius})
			case shape.Segment:
				each(i, &edge{[2]corner{flat(p.A), flat(p.B)}, p.Radius})
			case shape.Polytope:
				all := make([]corner, len(p.Hull.V))
				for n := range all {
					all[n] = flat(p.Vertex(n))
				}
				all = lower(all)
				if len(all) == 1 {
					all = append(all, all[0])
				}
				for n := 1; n < len(all); n++ {
					each(i, &edge{[2]corner{all[n-1], all[n]}, p.Radius})
				}
			case shape.Surface:
				all := make([]corner, len(p.Mesh.V))
				for n := range all {
					all[n] = flat(p.Vertex(n))
				}
				for _, t := range p.Mesh.T {
					for n := range t {
						if a, b := t[n], t[(n+1)%3]; a < b || !p.Mesh.Closed { // of a closed mesh each side once
							each(i, &edge{[2]corner{all[a], all[b]}, p.Radius})
						}
					}
				}
			}
		}
	}
}

// lower is the lower part of the hull round points of the side view, by rising x (Andrew's chain); the points are put in order.
func lower(points []corner) []corner {
	slices.SortFunc(points, func(a, b corner) int {
		switch {
		case a.q[0] < b.q[0]:
			return -1
		case a.q[0] > b.q[0]:
			return 1
		case a.q[1] < b.q[1]:
			return -1
		case a.q[1] > b.q[1]:
			return 1
		}
		return 0
	})
	var out []corner
	for _, p := range points {
		for len(out) >= 2 {
			a, b := out[len(out)-2].q, out[len(out)-1].q
			if (b[0]-a[0])*(p.q[1]-a[1])-(b[1]-a[1])*(p.q[0]-a[0]) > 0 {
				break
			}
			out = out[:len(out)-1]
		}
		if n := len(out); n == 1 && out[0].q[0] == p.q[0] { // straight above
			continue
		}
		out = append(out, p)
	}
	return out
}
