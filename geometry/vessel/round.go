package vessel

import (
	"math"

	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// round is a ball, or a round bar without ends, as far as its own planes leave of it. mm.
type round struct {
	at, along r3.Vec // along is a unit vector; a ball's any
	radius    float64
	long      float64 // a bar's from at; 0: a ball round at
	own       []plane
}

// roundsOf takes a ball or a pipe apart: a pipe's straight runs end at the planes that halve its bends and square to themselves at the bends, slices of balls fill the outside of the bends, half balls its ends. Of a
// pipe whose runs overlap elsewhere the sum is not its volume.
func roundsOf(e *job.Envelope) []round {
	if e.Kind == "ball" {
		return []round{{at: e.Centre.Vec(), along: r3.Vec{Z: 1}, radius: *e.Radius}}
	}
	r := *e.Outside / 2
	n := len(e.Path)
	dir := make([]r3.Vec, n-1)
	for i := range dir {
		dir[i] = r3.Unit(r3.Sub(e.Path[i+1].Vec(), e.Path[i].Vec()))
	}
	upTo := func(d, p r3.Vec) plane { return plane{d, r3.Dot(d, p)} } // what lies on this side of p along d
	var list []round
	for i, d := range dir {
		a, b := e.Path[i].Vec(), e.Path[i+1].Vec()
		run := round{at: a, along: d, radius: r, long: r3.Norm(r3.Sub(b, a))}
		if i > 0 {
			run.own = append(run.own, upTo(r3.Unit(r3.Add(dir[i-1], d)), a).reversed())
		}
		if i+1 < len(dir) {
			run.own = append(run.own, upTo(r3.Unit(r3.Add(d, dir[i+1])), b))
		}
		list = append(list, run)
		if i+1 < len(dir) && dir[i+1] != d {
			list = append(list, round{at: b, along: d, radius: r, own: []plane{upTo(d, b).reversed(), upTo(dir[i+1], b)}})
		}
	}
	first, last := dir[0], dir[n-2]
	return append(list,
		round{at: e.Path[0].Vec(), along: first, radius: r, own: []plane{upTo(first, e.Path[0].Vec())}},
		round{at: e.Path[n-1].Vec(), along: last, radius: r, own: []plane{upTo(last, e.Path[n-1].Vec()).reversed()}})
}

// roundTol is how near, mm3, the integral over the slices of a round piece comes.
const roundTol = 0.1

// halfLine keeps x*n[0] + y*n[1] <= at of a slice; n unit.
type halfLine struct {
	n  [2]float64
	at float64
}

// within returns the part inside every plane, mm3: its slices square to its axis are circles cut by straight lines, whose areas are closed forms; over them it is integrated to roundTol.
func (q *round) within(planes []plane) float64 {
	mid, reach := r3.Add(q.at, r3.Scale(q.long/2, q.along)), q.radius+q.long/2
	from, to := -q.radius, q.radius
	if q.long > 0 {
		from, to = 0, q.long
	}
	e := r3.Unit(r3.Cross(q.along, r3.Vec{X: 1}))
	if math.Abs(q.along.X) > 0.8 {
		e = r3.Unit(r3.Cross(q.along, r3.Vec{Y: 1}))
	}
	f := r3.Cross(q.along, e)
	type tilted struct {
		halfLine
		slope float64 // of at, along the axis
	}
	var list []tilted
	for _, set := range [2][]plane{q.own, planes} {
		for _, p := range set {
			off := r3.Dot(p.n, mid) - p.at
			if off >= reach {
				return 0
			}
			if off <= -reach {
				continue
			}
			s, at := r3.Dot(p.n, q.along), p.at-r3.Dot(p.n, q.at)
			x, y := r3.Dot(p.n, e), r3.Dot(p.n, f)
			l := math.Hypot(x, y)
			if l < 1e-12 { // square to the axis
				if s > 0 {
					to = math.Min(to, at/s)
				} else {
					from = math.Max(from, at/s)
				}
				continue
			}
			list = append(list, tilted{halfLine{[2]float64{x / l, y / l}, at / l}, -s / l})
		}
	}
	if !(from < to) {
		return 0
	}
	lines := make([]halfLine, len(list))
	loops := [2][][2]float64{make([][2]float64, 0, len(list)+4), make([][2]float64, 0, len(list)+4)}
	area := func(s float64) float64 {
		rho := q.radius
		if q.long == 0 {
			rho = math.Sqrt(math.Max(0, q.radius*q.radius-s*s))
		}
		for i := range list {
			lines[i] = list[i].halfLine
			lines[i].at += list[i].slope * s
		}
		return circleWithin(rho, lines, &loops)
	}
	const parts = 6 // so that a narrow part is not overlooked
	sum := 0.0
	for i := range parts {
		sum += integral(area, from+(to-from)*float64(i)/parts, from+(to-from)*float64(i+1)/parts, roundTol/parts, 0)
	}
	return sum
}

// circleWithin is the area of a circle round the origin inside every half line.
func circleWithin(r float64, lines []halfLine, room *[2][][2]float64) float64 {
	loop, next := append(room[0][:0], [2]float64{-2 * r, -2 * r}, [2]float64{2 * r, -2 * r}, [2]float64{2 * r, 2 * r}, [2]float64{-2 * r, 2 * r}), room[1]
	for _, l := range lines {
		next = next[:0]
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			da, db := l.n[0]*a[0]+l.n[1]*a[1]-l.at, l.n[0]*b[0]+l.n[1]*b[1]-l.at
			if da <= 0 {
				next = append(next, a)
			}
			if da <= 0 != (db <= 0) {
				t := da / (da - db)
				next = append(next, [2]float64{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])})
			}
		}
		loop, next = next, loop
	}
	room[0], room[1] = loop, next
	sum := 0.0
	for i, a := range loop {
		sum += circleEdge(r, a, loop[(i+1)%len(loop)])
	}
	return math.Max(0, sum)
}

// circleEdge is the area the circle shares with the triangle from its middle to two places, negative where they run clockwise.
func circleEdge(r float64, p, q [2]float64) float64 {
	slice := func(p, q [2]float64) float64 {
		return r * r / 2 * math.Atan2(p[0]*q[1]-p[1]*q[0], p[0]*q[0]+p[1]*q[1])
	}
	d := [2]float64{q[0] - p[0], q[1] - p[1]}
	a, b, c := d[0]*d[0]+d[1]*d[1], p[0]*d[0]+p[1]*d[1], p[0]*p[0]+p[1]*p[1]-r*r
	under := b*b - a*c
	if !(under > 0) {
		return slice(p, q)
	}
	t0, t1 := (-b-math.Sqrt(under))/a, (-b+math.Sqrt(under))/a
	if t0 >= 1 || t1 <= 0 {
		return slice(p, q)
	}
	sum := 0.0
	u, v := p, q
	if t0 > 0 {
		u = [2]float64{p[0] + t0*d[0], p[1] + t0*d[1]}
		sum += slice(p, u)
	}
	if t1 < 1 {
		v = [2]float64{p[0] + t1*d[0], p[1] + t1*d[1]}
		sum += slice(v, q)
	}
	return sum + (u[0]*v[1]-u[1]*v[0])/2
}

// Nodes and weights of Gauss and Kronrod, 7 and 15 places (Piessens and others, QUADPACK, Springer 1983, routine qk15); every second node is Gauss's.
var (
	kronrodAt = [8]float64{0.991455371120812639206854697526329, 0.949107912342758524526189684047851, 0.864864423359769072789712788640926, 0.741531185599394439863864773280788,
		0.586087235467691130294144691258384, 0.405845151377397166906606412076961, 0.207784955007898467600689403773245, 0}
	kronrod = [8]float64{0.022935322010529224963732008058970, 0.063092092629978553290700663189204, 0.104790010322250183839876322541518, 0.140653259715525918745189590510238,
		0.169004726639267902826583426598550, 0.190350578064785409913256402421014, 0.204432940075298892414161999234649, 0.209482141084727828012999174891714}
	gauss = [4]float64{0.129484966168869693270611432679082, 0.279705391489276667901467771423780, 0.381830050505118944950369775488975, 0.417959183673469387755102040816327}
)

// mostHalvings of a part of an integral.
const mostHalvings = 20

// integral halves a part until both rules agree to tol.
func integral(f func(float64) float64, a, b, tol float64, depth int) float64 {
	mid, half := (a+b)/2, (b-a)/2
	at := f(mid)
	k, g := kronrod[7]*at, gauss[3]*at
	for i := range 7 {
		two := f(mid-half*kronrodAt[i]) + f(mid+half*kronrodAt[i])
		k += kronrod[i] * two
		if i%2 == 1 {
			g += gauss[i/2] * two
		}
	}
	if half*math.Abs(k-g) <= tol || depth == mostHalvings {
		return half * k
	}
	return integral(f, a, mid, tol/2, depth+1) + integral(f, mid, b, tol/2, depth+1)
}
