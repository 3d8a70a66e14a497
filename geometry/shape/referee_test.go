package shape

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/spatial/r3"
)

// The referee of these tests: its own support functions and membership tests, from the definitions, slow and plain.

func unit(r *rand.Rand) r3.Vec {
	for {
		v := r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}
		if n := r3.Norm(v); n > 1e-3 {
			return r3.Scale(1/n, v)
		}
	}
}

func place(r *rand.Rand, spread float64) r3.Vec {
	return r3.Vec{X: spread * (2*r.Float64() - 1), Y: spread * (2*r.Float64() - 1), Z: spread * (2*r.Float64() - 1)}
}

func frame(r *rand.Rand) (ex, ey, ez r3.Vec) {
	ex = unit(r)
	ey = r3.Unit(r3.Cross(ex, unit(r)))
	return ex, ey, r3.Cross(ex, ey)
}

// anyPiece makes a piece of the kind, of a few hundred mm, within spread of the origin.
func anyPiece(r *rand.Rand, k Kind, spread float64) Piece {
	c := place(r, spread)
	switch k {
	case Point:
		return Piece{Kind: Point, A: c, Radius: 150 * r.Float64()}
	case Segment:
		return Piece{Kind: Segment, A: c, B: r3.Add(c, place(r, 700)), Radius: 60 * r.Float64()}
	case Drum:
		return Piece{Kind: Drum, A: c, Axis: unit(r), Half: 150 * r.Float64(), Rho: 450 * r.Float64(), Radius: 40 * r.Float64()}
	}
	ex, ey, ez := frame(r)
	switch r.IntN(3) {
	case 0:
		h := r3.Vec{X: 10 + 500*r.Float64(), Y: 10 + 300*r.Float64(), Z: 5 + 200*r.Float64()}
		p, err := NewBox(r3.Sub(c, h), r3.Add(c, h), ex, ey, ez)
		if err != nil {
			panic(err)
		}
		return p
	case 1: // a box carried by a body
		h := r3.Vec{X: 10 + 500*r.Float64(), Y: 10 + 300*r.Float64(), Z: 5 + 200*r.Float64()}
		p, err := NewBox(r3.Scale(-1, h), h, r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1})
		if err != nil {
			panic(err)
		}
		p.Place(c, ex, ey, ez, &p)
		return p
	}
	var pts []r3.Vec
	for range 8 + r.IntN(20) {
		pts = append(pts, r3.Add(c, place(r, 300)))
	}
	h, err := NewHull(pts)
	if err != nil {
		panic(err)
	}
	return Piece{Kind: Polytope, Hull: h, Radius: 20 * r.Float64()}
}

// corners are the core's vertices in body axes.
func corners(p *Piece) []r3.Vec {
	switch p.Kind {
	case Point:
		return []r3.Vec{p.A}
	case Segment:
		return []r3.Vec{p.A, p.B}
	}
	var v []r3.Vec
	for _, q := range p.Hull.V {
		if p.Moved {
			q = r3.Add(p.Shift, r3.Add(r3.Scale(q.X, p.Ex), r3.Add(r3.Scale(q.Y, p.Ey), r3.Scale(q.Z, p.Ez))))
		}
		v = append(v, q)
	}
	return v
}

// reachOf is the largest n.x over the swollen piece.
func reachOf(p *Piece, n r3.Vec) float64 {
	if p.Kind == Drum {
		t := r3.Dot(n, p.Axis)
		return r3.Dot(n, p.A) + p.Half*math.Abs(t) + p.Rho*r3.Norm(r3.Cross(n, p.Axis)) + p.Radius
	}
	best := math.Inf(-1)
	for _, v := range corners(p) {
		best = math.Max(best, r3.Dot(n, v))
	}
	return best + p.Radius
}

// sep is how far A lies beyond B along n, negative where their shadows overlap.
func sep(a, b *Piece, n r3.Vec) float64 {
	return -reachOf(a, r3.Scale(-1, n)) - reachOf(b, n)
}

// outside is how far x lies outside the swollen piece: a bound from below by planes for polytopes (0 inside), exact for the rest.
func outside(p *Piece, x r3.Vec) float64 {
	var d float64
	switch p.Kind {
	case Point:
		d = r3.Norm(r3.Sub(x, p.A))
	case Segment:
		e := r3.Sub(p.B, p.A)
		t := math.Max(0, math.Min(1, r3.Dot(r3.Sub(x, p.A), e)/r3.Dot(e, e)))
		d = r3.Norm(r3.Sub(x, r3.Add(p.A, r3.Scale(t, e))))
	case Drum:
		o := r3.Sub(x, p.A)
		h := r3.Dot(o, p.Axis)
		r := r3.Norm(r3.Sub(o, r3.Scale(h, p.Axis)))
		d = math.Hypot(math.Max(0, math.Abs(h)-p.Half), math.Max(0, r-p.Rho))
	case Polytope:
		v := corners(p)
		for _, f := range p.Hull.Faces {
			n := r3.Unit(r3.Cross(r3.Sub(v[f[1]], v[f[0]]), r3.Sub(v[f[2]], v[f[1]])))
			d = math.Max(d, r3.Dot(n, r3.Sub(x, v[f[0]])))
		}
	}
	return math.Max(0, d-p.Radius)
}

// slowDepth searches the sphere of directions for the shortest parting translation: a spread of directions, then steps of halving size from the best few.
func slowDepth(a, b *Piece, r *rand.Rand) float64 {
	type start struct {
		n r3.Vec
		d float64
	}
	var best [12]start
	for i := range best {
		best[i].d = math.Inf(1)
	}
	for range 6000 {
		n := unit(r)
		d := -sep(a, b, n)
		for k := range best {
			if d < best[k].d {
				copy(best[k+1:], best[k:])
				best[k] = start{n, d}
				break
			}
		}
	}
	least := math.Inf(1)
	for _, s := range best {
		for step := 0.05; step > 1e-9; {
			better := false
			for range 24 {
				m := r3.Unit(r3.Add(s.n, r3.Scale(step*r.Float64(), unit(r))))
				if d := -sep(a, b, m); d < s.d {
					s.n, s.d, better = m, d, true
				}
			}
			if !better {
				step *= 0.6
			}
		}
		least = math.Min(least, s.d)
	}
	return least
}
