package clearance

import (
	"errors"
	"math"

	"axleloft/geometry/job"
	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

// EnvelopeSolid returns the shape of an envelope (or housing entry) in body axes at ride height, mm. The error is a plain sentence. The file of a
// mesh is read once, and again when it has changed.
func EnvelopeSolid(e *job.Envelope) (shape.Solid, error) {
	switch e.Kind {
	case "box":
		if e.Min == nil || e.Max == nil {
			return shape.Solid{}, errors.New("a box needs min and max")
		}
		ex, ey, ez := Turned(e.Turn)
		p, err := shape.NewBox(e.Min.Vec(), e.Max.Vec(), ex, ey, ez)
		if err != nil {
			return shape.Solid{}, errors.New("the box has no room inside: each of max must be more than min")
		}
		return shape.Solid{Pieces: []shape.Piece{p}}, nil
	case "prism":
		return prism(e)
	case "ball":
		if e.Centre == nil || e.Radius == nil {
			return shape.Solid{}, errors.New("a ball needs centre and radius")
		}
		return shape.Solid{Pieces: []shape.Piece{{Kind: shape.Point, A: e.Centre.Vec(), Radius: *e.Radius}}}, nil
	case "tube":
		if len(e.Path) < 2 || e.Outside == nil {
			return shape.Solid{}, errors.New("a tube needs a path of two points or more and its outside diameter")
		}
		var s shape.Solid
		for i := 1; i < len(e.Path); i++ {
			s.Pieces = append(s.Pieces, shape.Piece{Kind: shape.Segment, Radius: *e.Outside / 2, A: e.Path[i-1].Vec(), B: e.Path[i].Vec()})
		}
		return s, nil
	case "mesh":
		return meshSolid(e)
	}
	return shape.Solid{}, errors.New("its kind must be box, prism, ball, tube or mesh")
}

// Turned returns the columns of Rz Ry Rx for a turn in degrees about X, Y, Z.
func Turned(turn *job.Point) (ex, ey, ez r3.Vec) {
	if turn == nil {
		return r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	}
	sx, cx := math.Sincos(turn[0] * math.Pi / 180)
	sy, cy := math.Sincos(turn[1] * math.Pi / 180)
	sz, cz := math.Sincos(turn[2] * math.Pi / 180)
	return r3.Vec{X: cz * cy, Y: sz * cy, Z: -sy},
		r3.Vec{X: cz*sy*sx - sz*cx, Y: sz*sy*sx + cz*cx, Z: cy * sx},
		r3.Vec{X: cz*sy*cx + sz*sx, Y: sz*sy*cx - cz*sx, Z: cy * cx}
}

func prism(e *job.Envelope) (shape.Solid, error) { return extruded(e, shape.NewPrism) }

// extruded hands a prism's outline, its ends and its axes to what makes something of them.
func extruded[T any](e *job.Envelope, make func(outline [][2]float64, lo, hi float64, to3 func(u, v, w float64) r3.Vec) (T, error)) (out T, err error) {
	if e.From == nil || e.To == nil {
		return out, errors.New("a prism needs from and to")
	}
	var to3 func(u, v, w float64) r3.Vec
	switch e.Plane {
	case "side":
		to3 = func(u, v, w float64) r3.Vec { return r3.Vec{X: u, Y: w, Z: v} }
	case "plan":
		to3 = func(u, v, w float64) r3.Vec { return r3.Vec{X: u, Y: v, Z: w} }
	case "rear":
		to3 = func(u, v, w float64) r3.Vec { return r3.Vec{X: w, Y: u, Z: v} }
	default:
		return out, errors.New("its plane must be side, plan or rear")
	}
	var outline [][2]float64
	for _, p := range e.Outline {
		outline = append(outline, p)
	}
	out, err = make(outline, math.Min(*e.From, *e.To), math.Max(*e.From, *e.To), to3)
	if errors.Is(err, shape.ErrOutline) {
		return out, errors.New("its outline crosses itself or has no area")
	}
	if err != nil {
		return out, errors.New("from and to must differ")
	}
	return out, nil
}

// EnvelopeMesh returns the surface of an envelope as triangles, body axes at ride height, mm; round ones with flats none of which lies further inside than
// within, up to 256 round a circle, their corners on the surface. That of a file is the file's own. The error is a plain sentence.
func EnvelopeMesh(e *job.Envelope, within float64) (*shape.Mesh, error) {
	s, err := EnvelopeSolid(e)
	if err != nil {
		return nil, err
	}
	var corners []r3.Vec
	switch e.Kind {
	case "mesh":
		return s.Pieces[0].Mesh, nil
	case "box":
		corners = s.Pieces[0].Hull.Facets()
	case "prism":
		if corners, err = extruded(e, shape.PrismFacets); err != nil {
			return nil, err
		}
	case "ball":
		corners = shape.BallFacets(e.Centre.Vec(), *e.Radius, shape.Sides(*e.Radius, within))
	case "tube":
		var path []r3.Vec
		for _, p := range e.Path {
			path = append(path, p.Vec())
		}
		corners = shape.PipeFacets(path, *e.Outside/2, shape.Sides(*e.Outside/2, within))
	}
	return shape.NewMesh(corners)
}

// Volume returns the gross, outside volume of an envelope in litres; ok is false for a mesh that is not closed, whose bodies overlap, or that cannot be read, for a tube bent so sharply, or so near to itself, that its volume
// has no simple form, and for a shape that cannot be built.
func Volume(e *job.Envelope) (litres float64, ok bool) {
	const mm3 = 1e-6
	switch e.Kind {
	case "ball":
		if e.Radius == nil {
			return 0, false
		}
		return mm3 * 4 / 3 * math.Pi * math.Pow(*e.Radius, 3), true
	case "tube":
		v, ok := tubeVolume(e)
		return mm3 * v, ok
	}
	s, err := EnvelopeSolid(e)
	if err != nil {
		return 0, false
	}
	if e.Kind == "mesh" {
		m := s.Pieces[0].Mesh
		v, ok := m.Volume()
		return mm3 * v, ok && m.Single()
	}
	var v float64
	for _, p := range s.Pieces {
		v += p.Hull.Volume()
	}
	return mm3 * v, true
}

// tubeVolume is the volume of a ball of radius r swept along the path. At a bend of angle b two straight runs share (4/3) r^3 tan(b/2) on the
// inside and a slice (2/3) b r^3 of the ball fills the outside; both ends are half spheres.
func tubeVolume(e *job.Envelope) (mm3 float64, ok bool) {
	if len(e.Path) < 2 || e.Outside == nil {
		return 0, false
	}
	r := *e.Outside / 2
	v := 4.0 / 3 * math.Pi * r * r * r
	for i := 1; i < len(e.Path); i++ {
		d := r3.Sub(e.Path[i].Vec(), e.Path[i-1].Vec())
		room := r3.Norm(d)
		v += math.Pi * r * r * room
		if i+1 < len(e.Path) {
			n := r3.Sub(e.Path[i+1].Vec(), e.Path[i].Vec())
			b := math.Atan2(r3.Norm(r3.Cross(d, n)), r3.Dot(d, n))
			hidden := r * math.Tan(b/2)
			if hidden > room || hidden > r3.Norm(n) {
				return 0, false
			}
			v += 2.0/3*b*r*r*r - 4.0/3*r*r*hidden
		}
	}
	return v, runsApart(e.Path, r)
}

// runsApart reports whether straight runs of a pipe that do not follow each other share no room: their centre lines are two radii apart, or a plane that halves a bend between them lies between.
func runsApart(path []job.Point, r float64) bool {
	n := len(path) - 1
	dir := make([]r3.Vec, n)
	half := make([]r3.Vec, n+1) // square to the plane in which a run ends and the next begins
	for i := range dir {
		dir[i] = r3.Unit(r3.Sub(path[i+1].Vec(), path[i].Vec()))
	}
	half[0], half[n] = dir[0], dir[n-1]
	for i := 1; i < n; i++ {
		half[i] = r3.Unit(r3.Add(dir[i-1], dir[i]))
	}
	// furthest is how far run i reaches along m.
	furthest := func(i int, m r3.Vec) float64 {
		best := math.Inf(-1)
		for k, p := range [2]r3.Vec{path[i].Vec(), path[i+1].Vec()} {
			across := r3.Sub(m, r3.Scale(r3.Dot(m, dir[i])/r3.Dot(half[i+k], dir[i]), half[i+k]))
			across = r3.Sub(across, r3.Scale(r3.Dot(across, dir[i]), dir[i]))
			reach := r * r3.Norm(across)
			if out := r3.Dot(m, dir[i]); i+k == 0 && out < 0 || i+k == n && out > 0 {
				reach = r // of the half ball there
			}
			best = math.Max(best, r3.Dot(m, p)+reach)
		}
		return best
	}
	var s shape.Scratch
	for i := range dir {
		for j := i + 2; j < n; j++ {
			a := shape.Piece{Kind: shape.Segment, A: path[i].Vec(), B: path[i+1].Vec(), Radius: r}
			b := shape.Piece{Kind: shape.Segment, A: path[j].Vec(), B: path[j+1].Vec(), Radius: r}
			var g Gap
			s.Gap(&a, &b, &g)
			apart := g.Gap >= 0
			for k := i + 1; k <= j && !apart; k++ {
				at := r3.Dot(half[k], path[k].Vec())
				apart = furthest(i, half[k]) <= at+1e-9*r && -furthest(j, r3.Scale(-1, half[k])) >= at-1e-9*r
			}
			if !apart {
				return false
			}
		}
	}
	return true
}
