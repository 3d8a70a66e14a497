package motion

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// twist is a motion of the axle: velocity of its centre, mm, and its turn times one metre, mm.
type twist [6]float64

// hold6 is the unit direction u at a point r from the axle centre as a row: u and (r x u)/1 m.
func hold6(u, r r3.Vec) twist {
	t := r3.Cross(r, u)
	return twist{u.X, u.Y, u.Z, t.X / angleScale, t.Y / angleScale, t.Z / angleScale}
}

func addRow(ata *[6][6]float64, a *twist) {
	for i := range a {
		for k := range a {
			ata[i][k] += a[i] * a[k]
		}
	}
}

// holding builds A'A of the matrix whose smallest singular value says how well the axle is held: for each distance its unit direction u and ((P - C) x u)/1 m,
// and the two wheel travels likewise. The turns of rockers and the bodies of radius arms (three unit rows a pivot) are eliminated: of their
// rows only what lies square to what they can do themselves counts.
func (m *Mechanism) holding(p *Pose, ata *[6][6]float64) {
	*ata = [6][6]float64{}
	add := func(a *twist) { addRow(ata, a) }
	for i := range m.rows {
		w := &m.rows[i]
		r := p.Offset(w.p)
		d := r3.Sub(r3.Add(p.C, r), w.f)
		a := hold6(r3.Scale(1/norm(d), d), r)
		add(&a)
	}
	for i := range m.Rockers {
		var a [2]twist
		v := m.lever(p, i)
		for k := range a {
			w := m.rod(p, i, k)
			a[k] = hold6(r3.Scale(1/norm(w.d), w.d), w.r)
		}
		n := math.Sqrt(v.g[0]*v.g[0] + v.g[1]*v.g[1])
		if !(n > 0) {
			add(&a[0])
			add(&a[1])
			continue
		}
		for k := range a[0] {
			a[0][k] = (v.g[1]*a[0][k] - v.g[0]*a[1][k]) / n
		}
		add(&a[0])
	}
	var f fold
	for i, k := range m.radius {
		m.Arms[k].holding(p, &p.arms[i], ata, &f)
		for r := range 6 {
			for c := range 6 {
				for o := range own {
					ata[r][c] -= f.x[o][r] * f.rate[o][c]
				}
			}
		}
	}
	up := r3.Vec{Z: 1}
	left, right := hold6(up, r3.Scale(m.Track/2, p.Ey)), hold6(up, r3.Scale(-m.Track/2, p.Ey))
	add(&left)
	add(&right)
}

// holding adds the rows of a radius arm's pivots on the axle and fills the fold of its own six freedoms.
func (a *Arm) holding(p *Pose, at *body, ata *[6][6]float64, f *fold) {
	f.reset(own)
	for i := range a.mounts {
		k := &a.mounts[i]
		rho := at.turn(k.at)
		for c := range 3 {
			var u r3.Vec
			switch c {
			case 0:
				u.X = 1
			case 1:
				u.Y = 1
			default:
				u.Z = 1
			}
			mine := hold6(u, rho)
			for x := range mine {
				for y := x; y < own; y++ {
					f.a[x][y] += mine[x] * mine[y]
				}
			}
			if k.mount.On != OnAxle {
				continue
			}
			axle := hold6(u, p.Offset(k.mount.At))
			addRow(ata, &axle)
			for x := range mine {
				for y := range axle {
					f.x[x][y] -= mine[x] * axle[y]
				}
			}
		}
	}
	f.solve()
}

// eigen6 diagonalises a symmetric 6x6 matrix by cyclic Jacobi rotations: values ascending, vectors as rows of vec. It does not allocate.
func eigen6(a *[6][6]float64, val *[6]float64, vec *[6]twist) {
	var v [6][6]float64
	for i := range v {
		v[i][i] = 1
	}
	for range 60 {
		off := 0.0
		for i := range 6 {
			for k := i + 1; k < 6; k++ {
				off += a[i][k] * a[i][k]
			}
		}
		if off < 1e-30 {
			break
		}
		for p := range 6 {
			for q := p + 1; q < 6; q++ {
				if a[p][q] == 0 {
					continue
				}
				th := (a[q][q] - a[p][p]) / (2 * a[p][q])
				t := 1 / (math.Abs(th) + math.Sqrt(th*th+1))
				if th < 0 {
					t = -t
				}
				c := 1 / math.Sqrt(t*t+1)
				s := t * c
				for k := range 6 {
					a[k][p], a[k][q] = c*a[k][p]-s*a[k][q], s*a[k][p]+c*a[k][q]
				}
				for k := range 6 {
					a[p][k], a[q][k] = c*a[p][k]-s*a[q][k], s*a[p][k]+c*a[q][k]
				}
				for k := range 6 {
					v[k][p], v[k][q] = c*v[k][p]-s*v[k][q], s*v[k][p]+c*v[k][q]
				}
			}
		}
	}
	var order [6]int
	for i := range order {
		order[i] = i
		for k := i; k > 0 && a[order[k]][order[k]] < a[order[k-1]][order[k-1]]; k-- {
			order[k], order[k-1] = order[k-1], order[k]
		}
	}
	for i, o := range order {
		val[i] = a[o][o]
		for k := range 6 {
			vec[i][k] = v[k][o]
		}
	}
}

// singular is the smallest singular value at a pose and the motion that belongs to it.
func (m *Mechanism) singular(p *Pose) (float64, twist) {
	var a [6][6]float64
	var val [6]float64
	var vec [6]twist
	m.holding(p, &a)
	eigen6(&a, &val, &vec)
	return math.Sqrt(math.Max(0, val[0])), vec[0]
}

// hold measures how well the axle is held at ride height; it refuses a layout that leaves it free, in words.
func (m *Mechanism) hold() error {
	for i := range m.Rockers {
		if v := m.lever(&m.ride, i); !(v.h >= notLocated) {
			return &Error{Kind: NotLocated, Words: fmt.Sprintf("Nothing stops %s turning on its bolt: both its rods point at the bolt. Move one of them. No figures till then.", m.Rockers[i].Name)}
		}
	}
	var a [6][6]float64
	var val [6]float64
	var vec [6]twist
	m.holding(&m.ride, &a)
	eigen6(&a, &val, &vec)
	m.Singular = math.Sqrt(math.Max(0, val[0]))
	m.Weakest = Free(vec[0])
	if !(m.Singular >= notLocated) {
		free := 0
		for free < 6 && !(math.Sqrt(math.Max(0, val[free])) >= notLocated) {
			free++
		}
		e := &Error{Kind: NotLocated, Words: freeWords(vec[:free])}
		for _, v := range vec[:free] {
			e.Free = append(e.Free, Free(v))
		}
		return e
	}
	if m.Singular < poorlyHeld {
		m.PoorlyHeld = poorlyWords(vec[0])
	}
	return nil
}

// PoorlyHeldAt says, in the words of Mechanism.PoorlyHeld, whether the axle is poorly held at a solved pose: "" where it is not. The pose's own
// bracket, Held to twice Held, settles it in most cases; only where it touches the threshold is the singular value itself worked out.
func (m *Mechanism) PoorlyHeldAt(p *Pose) string {
	if p.Held >= poorlyHeld {
		return ""
	}
	sv, t := m.singular(p)
	if sv >= poorlyHeld {
		return ""
	}
	return poorlyWords(t)
}

const (
	heldStep = 5.0  // mm of the larger wheel travel between looks
	heldTo   = 0.05 // mm to which the place is found
)

// PoorlyHeldBeyond looks along the straight way of wheel travels s (dirLeft, dirRight), s from 0 (ride height) to far in mm, for the first place at
// which the axle becomes poorly held, and says so in words with that place. ok is false where it is held well as far as far or as far as the links
// let it; the words are Mechanism.PoorlyHeld, the place ride height, where it is poorly held there already.
func (m *Mechanism) PoorlyHeldBeyond(dirLeft, dirRight, far float64) (words string, left, right float64, ok bool) {
	if m.PoorlyHeld != "" {
		return m.PoorlyHeld, 0, 0, true
	}
	way := math.Max(math.Abs(dirLeft), math.Abs(dirRight))
	if !(way > 0) || !(far > 0) || math.IsInf(far, 0) {
		return "", 0, 0, false
	}
	steps := math.Ceil(far * way / heldStep)
	if !(steps <= mostTries) {
		return "", 0, 0, false
	}
	s := m.NewSolver()
	good := m.ride
	var p Pose
	for k := 1.0; k <= steps; k++ {
		at := far * k / steps
		err := s.SolveFrom(&good, at*dirLeft, at*dirRight, &p)
		if m.PoorlyHeldAt(&p) == "" {
			if err != nil {
				return "", 0, 0, false
			}
			good = p
			continue
		}
		bad := p
		for math.Max(math.Abs(bad.Left-good.Left), math.Abs(bad.Right-good.Right)) > heldTo {
			if s.SolveFrom(&good, (good.Left+bad.Left)/2, (good.Right+bad.Right)/2, &p) != nil {
				break
			}
			if m.PoorlyHeldAt(&p) == "" {
				good = p
			} else {
				bad = p
			}
		}
		_, t := m.singular(&bad)
		return fmt.Sprintf("The axle is poorly held beyond %s: little stops it %s.", placeWords(&good), motionWords(t)), good.Left, good.Right, true
	}
	return "", 0, 0, false
}

func poorlyWords(t twist) string {
	return "The axle is poorly held: little stops it " + motionWords(t) + "."
}

// The motions an axle can be left with once its wheel travels are given, what each is called and what would cure it.
var motions = []struct {
	axis         int // of twist
	name, remedy string
}{
	{1, "moving sideways", "Add a Panhard rod, a Watt's linkage, or angle one pair of links."},
	{0, "moving fore and aft", "Add links that run along the vehicle."},
	{4, "turning nose up and down", "Add an upper link or a torque arm."},
	{5, "steering", "Add a link that runs along the vehicle on the other side, or spread the links."},
}

// freeWords names every motion that lies (mostly) in the span of the free ones.
func freeWords(free []twist) string {
	type part struct {
		i int
		w float64
	}
	var parts []part
	for i, mo := range motions {
		w := 0.0
		for _, f := range free {
			w += f[mo.axis] * f[mo.axis]
		}
		parts = append(parts, part{i, w})
	}
	sort.SliceStable(parts, func(a, b int) bool { return parts[a].w > parts[b].w })
	n := min(len(free), len(parts))
	var names, remedies []string
	for _, p := range parts[:max(n, 1)] {
		names = append(names, motions[p.i].name)
		remedies = append(remedies, motions[p.i].remedy)
	}
	text := names[0]
	if len(names) > 1 {
		text = strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
	}
	return "Nothing stops the axle " + text + ". " + strings.Join(remedies, " ") + " No figures till then."
}

// motionWords names the largest part of a motion.
func motionWords(t twist) string {
	best, name := -1.0, ""
	for _, mo := range motions {
		if w := math.Abs(t[mo.axis]); w > best+1e-9 {
			best, name = w, mo.name
		}
	}
	return name
}
