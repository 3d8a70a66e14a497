package clearance

import (
	"math"
	"math/rand/v2"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/quantity"
	"axleloft/geometry/shape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// level is ground through the origin, and wheels of 450 mm radius 3000 mm apart.
var level = Side{Ground: quantity.Ground{Ex: r3.Vec{X: 1}, Ez: r3.Vec{Z: 1}, Wheelbase: 3000}, Radius: 450}

// alone is a scratch of one part of the given pieces.
func alone(pieces ...shape.Piece) *Scratch {
	return &Scratch{model: &Model{Parts: []Part{{Name: "Thing", Kind: EnvelopePart}}}, solids: []shape.Solid{{Pieces: pieces}}}
}

func TestLowestByHand(t *testing.T) {
	box, err := shape.NewBox(r3.Vec{X: -100, Y: -50, Z: 300}, r3.Vec{X: 100, Y: 50, Z: 400}, r3.Vec{X: math.Sqrt2 / 2, Z: -math.Sqrt2 / 2}, r3.Vec{Y: 1}, r3.Vec{X: math.Sqrt2 / 2, Z: math.Sqrt2 / 2})
	require.NoError(t, err)
	tilt := quantity.Ground{Contact: r3.Vec{X: 10, Z: -20}, Ex: r3.Vec{X: 0.8, Z: 0.6}, Ez: r3.Vec{X: -0.6, Z: 0.8}}
	for _, tc := range []struct {
		name string
		p    shape.Piece
		g    quantity.Ground
		want float64
		at   r3.Vec
	}{
		{"ball", shape.Piece{Kind: shape.Point, A: r3.Vec{X: 7, Y: 3, Z: 460}, Radius: 190}, level.Ground, 270, r3.Vec{X: 7, Y: 3, Z: 270}},
		{"bar", shape.Piece{Kind: shape.Segment, A: r3.Vec{Z: 500}, B: r3.Vec{X: 900, Z: 380}, Radius: 25}, level.Ground, 355, r3.Vec{X: 900, Z: 355}},
		{"box turned nose down by 45 deg", box, level.Ground, 350 - 150*math.Sqrt2/2, r3.Vec{}},
		{"ball, ground that rises 3 in 4 forward", shape.Piece{Kind: shape.Point, A: r3.Vec{X: 10, Z: 480}, Radius: 100}, tilt, 300, r3.Vec{X: 70, Z: 400}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			h, at := alone(tc.p).Lowest(0, &tc.g)
			assert.InDelta(t, tc.want, h, 1e-9)
			assert.InDelta(t, tc.want, tc.g.Height(at), 1e-9)
			if tc.at != (r3.Vec{}) {
				assert.InDelta(t, 0, r3.Norm(r3.Sub(tc.at, at)), 1e-9)
			}
		})
	}
	assert.Zero(t, testing.AllocsPerRun(10, func() { aloneBar.Lowest(0, &level.Ground) }))
}

var aloneBar = alone(shape.Piece{Kind: shape.Segment, A: r3.Vec{Z: 500}, B: r3.Vec{X: 900, Z: 380}, Radius: 25})

// Nothing of a part lies lower than its lowest point, and that point is its own: over random positions of the demos, random points of every part.
func TestLowestOverRandomPositions(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1))
	for _, name := range assets.Demos() {
		m, c := build(t, demo(t, name))
		s, solver := c.NewScratch(), m.NewSolver()
		uses := make([]quantity.LinkUse, len(m.Links))
		load := quantity.Load{Radius: m.Radius - 6}
		for range 60 {
			p := m.Ride()
			if solver.Solve(rng.Float64()*160-80, rng.Float64()*160-80, &p) != nil {
				continue
			}
			quantity.Links(m, &p, uses)
			s.Place(&p, uses)
			g := quantity.GroundOf(m, &p, &load)
			for i := range c.Parts {
				h, at := s.Lowest(i, &g)
				require.InDelta(t, h, g.Height(at), 1e-9)
				near := math.Inf(1)
				for k := range s.Solid(i).Pieces {
					piece := &s.Solid(i).Pieces[k]
					for range 20 {
						q := piece.Support(r3.Unit(r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}))
						require.GreaterOrEqual(t, g.Height(q), h-1e-9, c.Parts[i].Name)
					}
					var gap shape.Result
					var sc shape.Scratch
					sc.Gap(piece, &shape.Piece{Kind: shape.Point, A: at}, &gap)
					near = math.Min(near, gap.Gap)
				}
				require.Less(t, near, 1e-6, "%s: its lowest point lies on it", c.Parts[i].Name)
			}
		}
	}
}

// A point 500 mm behind the wheel centre, 250 above the ground: the line under the wheel through it meets the ground at d with
// 500 sin d + 200 cos d = 450 (the wheel's centre is 450 from the line), so d = atan(-200/500) + asin(450/hypot(500, 200)).
func TestAnglesByHand(t *testing.T) {
	d := level.Departure(r3.Vec{X: -500, Z: 250})
	assert.InDelta(t, 450, 500*math.Sin(d)+200*math.Cos(d), 1e-9)
	assert.InDelta(t, 34.88, d*180/math.Pi, 0.01)
	assert.InDelta(t, d, level.Approach(r3.Vec{X: 3500, Z: 250}), 1e-12, "the front's is the mirror image")
	// midway, the height under which a wedge of two slopes of 10 deg stands: the line leaves the wheel at R tan(5 deg) from its contact
	z := (1500 - 450*math.Tan(5*math.Pi/180)) * math.Tan(10*math.Pi/180)
	assert.InDelta(t, 20, level.Ramp(r3.Vec{X: 1500, Z: z})*180/math.Pi, 1e-9)
	assert.InDelta(t, 0, level.Ramp(r3.Vec{X: 700}), 1e-12, "on the ground")
	for _, p := range []r3.Vec{{X: 100, Z: 450}, {X: -10, Z: 300}, {X: 3100, Z: 600}} {
		assert.True(t, math.IsNaN(level.Ramp(p)), "within a wheel's circle or not between: %v", p)
	}
	assert.True(t, math.IsNaN(level.Departure(r3.Vec{X: 900, Z: 100})), "before the wheels")

	none := alone(shape.Piece{Kind: shape.Point, A: r3.Vec{Z: 450}, Radius: 190})
	assert.Equal(t, -1, none.Departure(&level).Part, "a housing within the wheels' circle limits neither")
	assert.Equal(t, -1, none.Ramp(&level).Part)
}

// outline hands out points of the underside of a placed part, closely.
func outline(s *Scratch, part int, each func(p r3.Vec)) {
	const n = 240
	for k := range s.solids[part].Pieces {
		p := &s.solids[part].Pieces[k]
		var core []r3.Vec
		switch p.Kind {
		case shape.Point:
			core = []r3.Vec{p.A}
		case shape.Segment:
			for i := range n + 1 {
				core = append(core, r3.Add(p.A, r3.Scale(float64(i)/n, r3.Sub(p.B, p.A))))
			}
		case shape.Polytope:
			for a := range p.Hull.V {
				for b := range a {
					for i := range n + 1 {
						core = append(core, r3.Add(p.Vertex(a), r3.Scale(float64(i)/n, r3.Sub(p.Vertex(b), p.Vertex(a)))))
					}
				}
			}
		}
		turns := 1
		if p.Radius > 0 {
			turns = n
		}
		for _, c := range core {
			for i := range turns {
				sn, cs := math.Sincos(2 * math.Pi * float64(i) / n)
				each(r3.Add(c, r3.Vec{X: p.Radius * sn, Z: -p.Radius * cs}))
			}
		}
	}
}

// The angles of random shapes against the least over close points of them: no point gives less, and some gives hardly more.
func TestAnglesAgainstPoints(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 2))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	counted := 0
	for range 60 {
		var s *Scratch
		z := between(180, 500)
		switch rng.IntN(3) {
		case 0:
			s = alone(shape.Piece{Kind: shape.Point, A: r3.Vec{X: between(-900, 2400), Z: z + 60}, Radius: between(10, 150)})
		case 1:
			s = alone(shape.Piece{Kind: shape.Segment, A: r3.Vec{X: between(-900, 3500), Y: 300, Z: z}, B: r3.Vec{X: between(-900, 2400), Z: between(180, 500)}, Radius: between(10, 80)})
		default:
			x := between(-1000, 2000)
			a := between(-0.3, 0.3)
			box, err := shape.NewBox(r3.Vec{X: x, Y: -50, Z: z}, r3.Vec{X: x + between(50, 900), Y: 50, Z: z + 200},
				r3.Vec{X: math.Cos(a), Z: math.Sin(a)}, r3.Vec{Y: 1}, r3.Vec{X: -math.Sin(a), Z: math.Cos(a)})
			require.NoError(t, err)
			s = alone(box)
		}
		ramp, dep := math.Inf(1), math.Inf(1)
		outline(s, 0, func(p r3.Vec) {
			if v := level.Ramp(p); v < ramp {
				ramp = v
			}
			if v := level.Departure(p); v < dep {
				dep = v
			}
		})
		for _, c := range []struct {
			got   Touch
			least float64
			of    func(r3.Vec) float64
		}{{s.Ramp(&level), ramp, level.Ramp}, {s.Departure(&level), dep, level.Departure}} {
			if math.IsInf(c.least, 1) || c.least > math.Pi/3 {
				continue // no limit of the kind
			}
			counted++
			assert.LessOrEqual(t, c.got.Angle, c.least+1e-9)
			assert.InDelta(t, c.least, c.got.Angle, 2e-3)
			assert.InDelta(t, c.got.Angle, c.of(c.got.At), 1e-6, "the point named gives the angle")
		}
	}
	assert.Greater(t, counted, 30)
}

// A mesh of a box gives what the box gives.
func TestAnglesOfAMesh(t *testing.T) {
	lo, hi := r3.Vec{X: 900, Y: -50, Z: 260}, r3.Vec{X: 1700, Y: 50, Z: 400}
	box, err := shape.NewBox(lo, hi, r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1})
	require.NoError(t, err)
	v := func(i int) r3.Vec {
		p := lo
		if i&1 != 0 {
			p.X = hi.X
		}
		if i&2 != 0 {
			p.Y = hi.Y
		}
		if i&4 != 0 {
			p.Z = hi.Z
		}
		return p
	}
	var corners []r3.Vec
	for _, f := range [][4]int{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		corners = append(corners, v(f[0]), v(f[1]), v(f[2]), v(f[0]), v(f[2]), v(f[3]))
	}
	mesh, err := shape.NewMesh(corners)
	require.NoError(t, err)
	require.True(t, mesh.Closed)
	a, b := alone(box).Ramp(&level), alone(mesh.Piece()).Ramp(&level)
	assert.InDelta(t, a.Angle, b.Angle, 1e-9)
	h, _ := alone(mesh.Piece()).Lowest(0, &level.Ground)
	assert.Equal(t, 260.0, h)
}
