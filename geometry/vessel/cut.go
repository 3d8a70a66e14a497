package vessel

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// Size is how far a cut goes in from a named face of the vessel, whole mm; From is 0 where it begins at that face.
type Size struct {
	Face     string // front, rear, left, right, top, bottom
	From, To float64
}

// Cut is a cut with flat faces that takes all of a keep-out, what is undecided of it included.
type Cut struct {
	Kind   string  // "face", "step", "slope", "slot", "corner"
	Words  string  // where it is and how large, with its sizes in mm
	Sizes  []Size  // in along each way that it does not run through
	Folds  int     // flat faces it leaves
	Litres float64 // lost

	planes []plane // all of it lies within them; body axes
	parts  []part  // as Sizes
}

var faceNames = [3][2]string{{"rear", "front"}, {"right", "left"}, {"bottom", "top"}}

// through says which way a cut runs from side to side.
var through = [3]string{"over the whole length", "over the whole width", "over the whole height"}

// atEdge: what is taken that begins no further in than this begins at the face, mm.
const atEdge = 0.5

// Cuts lists the simple cuts that take the keep-out whole, those that lose least first; a face cut back whole is among them. Sizes are rounded up to whole mm. Empty where nothing is to be taken. Only for a
// flat vessel.
func (v *Vessel) Cuts(k *KeepOut) []Cut {
	return v.cuts(k.boxes)
}

func (v *Vessel) cuts(boxes []box) []Cut {
	if !v.Flat || len(boxes) == 0 {
		return nil
	}
	var pts [][3]float64
	for i := range boxes {
		pts = boxes[i].nearer(pts)
	}
	lo, hi := v.hi, v.lo
	for _, p := range pts {
		for i := range p {
			lo[i], hi[i] = math.Max(v.lo[i], math.Min(lo[i], p[i])), math.Min(v.hi[i], math.Max(hi[i], p[i]))
		}
	}
	f := &finder{v: v, lo: lo, hi: hi, pts: pts}
	for a := range 3 {
		for _, sa := range [2]int{0, 1} {
			f.add("face", 1, f.from(a, sa))
			for b := range 3 {
				if b == a {
					continue
				}
				f.slot(a, sa, b)
				for _, sb := range [2]int{0, 1} {
					if b < a {
						continue
					}
					f.add("step", 2, f.from(a, sa), f.from(b, sb))
					f.slope(a, sa, b, sb)
				}
			}
		}
	}
	for i := range 8 {
		f.add("corner", 3, f.from(0, i&1), f.from(1, i>>1&1), f.from(2, i>>2))
	}
	slices.SortStableFunc(f.found, func(a, b Cut) int { return cmp.Or(cmp.Compare(a.Litres, b.Litres), cmp.Compare(a.Folds, b.Folds)) })
	return f.found
}

// mostApart is how many separate places are cut each for itself; where there are more, one cut takes them all.
const mostApart = 3

// Apart lists the cuts for each separate place of the keep-out; nil where there is one place only, or too many.
func (v *Vessel) Apart(k *KeepOut) [][]Cut {
	groups := apart(k.boxes)
	if len(groups) < 2 || len(groups) > mostApart {
		return nil
	}
	var out [][]Cut
	for _, g := range groups {
		out = append(out, v.cuts(g))
	}
	return out
}

// Plan is what is best cut: the one simple cut that loses least or, where separate places are taken and that loses less, one for each. Empty where nothing is to be taken.
func (v *Vessel) Plan(k *KeepOut) []Cut {
	var plan []Cut
	all := v.Cuts(k)
	if i := Best(all); i >= 0 {
		plan = []Cut{all[i]}
	} else if len(all) > 0 {
		plan = all[:1]
	}
	var each []Cut
	for _, list := range v.Apart(k) {
		i := Best(list)
		if i < 0 {
			return plan
		}
		each = append(each, list[i])
	}
	if len(each) > 0 && (len(plan) == 0 || v.Lost(each) < v.Lost(plan)) {
		return each
	}
	return plan
}

// Lost is what cuts lose together, litres.
func (v *Vessel) Lost(cuts []Cut) float64 { return v.lost(cuts) }

// lost is what cuts lose together of what lies within further planes: each counts, less what two share, and so on.
func (v *Vessel) lost(cuts []Cut, planes ...plane) float64 {
	sum := 0.0
	for set := 1; set < 1<<len(cuts); set++ {
		all := append([]plane(nil), planes...)
		sign := -1.0
		for i := range cuts {
			if set>>i&1 == 1 {
				all = append(all, cuts[i].planes...)
				sign = -sign
			}
		}
		sum += sign * mm3 * within(v.polys, all...)
	}
	return sum
}

// apart puts boxes that touch together.
func apart(boxes []box) [][]box {
	of := make([]int, len(boxes))
	for i := range of {
		of[i] = i
	}
	root := func(i int) int {
		for of[i] != i {
			of[i] = of[of[i]]
			i = of[i]
		}
		return i
	}
	order := make([]int, len(boxes))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(boxes[a].lo[0], boxes[b].lo[0]) })
	var live []int
	for _, i := range order {
		b := &boxes[i]
		live = slices.DeleteFunc(live, func(k int) bool { return boxes[k].hi[0] < b.lo[0]-atEdge })
		for _, k := range live {
			c := &boxes[k]
			if b.lo[1] <= c.hi[1]+atEdge && c.lo[1] <= b.hi[1]+atEdge && b.lo[2] <= c.hi[2]+atEdge && c.lo[2] <= b.hi[2]+atEdge {
				of[root(i)] = root(k)
			}
		}
		live = append(live, i)
	}
	at := map[int]int{}
	var out [][]box
	for i := range boxes {
		r := root(i)
		n, known := at[r]
		if !known {
			n = len(out)
			at[r] = n
			out = append(out, nil)
		}
		out[n] = append(out[n], boxes[i])
	}
	return out
}

// Best is the one of the simple cuts that loses fewest litres, a face cut back whole aside; the first of equal ones has the fewest folds. -1 where there is none.
func Best(list []Cut) int {
	return slices.IndexFunc(list, func(c Cut) bool { return c.Kind != "face" })
}

type finder struct {
	v      *Vessel
	lo, hi [3]float64 // of what is to be taken
	pts    [][3]float64
	found  []Cut
}

// part is one way in.
type part struct {
	axis, side int
	from, to   float64 // mm in from that side
}

// from is the cut that begins at a side and goes in as far as need be.
func (f *finder) from(axis, side int) part {
	d := f.hi[axis] - f.v.lo[axis]
	if side == 1 {
		d = f.v.hi[axis] - f.lo[axis]
	}
	return part{axis, side, 0, math.Ceil(d - 1e-6)}
}

// room is how much there is of the vessel along an axis.
func (f *finder) room(axis int) float64 { return f.v.hi[axis] - f.v.lo[axis] }

// plane is what lies within mm of a side.
func (f *finder) plane(axis, side int, mm float64) plane {
	a := f.v.axes[axis]
	if side == 1 {
		return plane{a, f.v.hi[axis] - mm}.reversed()
	}
	return plane{a, f.v.lo[axis] + mm}
}

func (f *finder) add(kind string, folds int, parts ...part) {
	c := Cut{Kind: kind, Folds: folds, parts: parts}
	for _, p := range parts {
		if p.to >= f.room(p.axis) {
			return // that is the whole of it: a simpler cut says so
		}
		c.planes = append(c.planes, f.plane(p.axis, p.side, p.to))
		if p.from > 0 {
			c.planes = append(c.planes, f.plane(p.axis, p.side, p.from).reversed())
		}
		c.Sizes = append(c.Sizes, Size{faceNames[p.axis][p.side], p.from, p.to})
	}
	c.Words = c.Worded(figure)
	f.keep(c)
}

func (f *finder) keep(c Cut) {
	c.Litres = mm3 * within(f.v.polys, c.planes...)
	if c.Litres < f.v.Litres*(1-1e-9) {
		f.found = append(f.found, c)
	}
}

// slot is open to a side and runs through along the third axis.
func (f *finder) slot(a, side, b int) {
	at := part{b, 1, math.Floor(f.v.hi[b] - f.hi[b] + 1e-6), math.Ceil(f.v.hi[b] - f.lo[b] - 1e-6)}
	if at.from < atEdge || f.room(b)-at.to < atEdge {
		return // a step
	}
	f.add("slot", 3, f.from(a, side), at)
}

// slope is the one flat face off an edge that takes the least: with what is to be taken at x in from the one side and y from the other, all of it has x/a + y/b <= 1.
func (f *finder) slope(a, sa, b, sb int) {
	in := func(axis, side int, p [3]float64) float64 {
		if side == 1 {
			return math.Max(0, f.v.hi[axis]-p[axis])
		}
		return math.Max(0, p[axis]-f.v.lo[axis])
	}
	// Only places with none further in from both sides decide.
	at := make([][2]float64, len(f.pts))
	for i, p := range f.pts {
		at[i] = [2]float64{in(a, sa, p), in(b, sb, p)}
	}
	slices.SortFunc(at, func(p, q [2]float64) int { return cmp.Or(cmp.Compare(q[0], p[0]), cmp.Compare(q[1], p[1])) })
	furthest := at[:0]
	for _, p := range at {
		if len(furthest) == 0 || p[1] > furthest[len(furthest)-1][1] {
			furthest = append(furthest, p)
		}
	}
	best, da, db := math.Inf(1), 0.0, 0.0
	const ways = 178
	for i := 1; i < ways; i++ {
		n, m := math.Sincos(math.Pi / 2 * float64(i) / ways)
		s := 0.0
		for _, p := range furthest {
			s = math.Max(s, n*p[0]+m*p[1])
		}
		x, y := math.Ceil(s/n-1e-6), math.Ceil(s/m-1e-6)
		if x > f.room(a) || y > f.room(b) || !(x*y < best) {
			continue
		}
		best, da, db = x*y, x, y
	}
	if math.IsInf(best, 1) || best == 0 {
		return
	}
	// In from both sides: the plane through both depths.
	out := func(axis, side int) (r3.Vec, float64) {
		if side == 1 {
			return r3.Scale(-1, f.v.axes[axis]), -f.v.hi[axis]
		}
		return f.v.axes[axis], f.v.lo[axis]
	}
	na, oa := out(a, sa)
	nb, ob := out(b, sb)
	n := r3.Add(r3.Scale(1/da, na), r3.Scale(1/db, nb))
	l := r3.Norm(n)
	c := Cut{Kind: "slope", Folds: 1, Sizes: []Size{{faceNames[a][sa], 0, da}, {faceNames[b][sb], 0, db}},
		planes: []plane{{r3.Scale(1/l, n), (1 + oa/da + ob/db) / l}}, parts: []part{{a, sa, 0, da}, {b, sb, 0, db}}}
	c.Words = c.Worded(figure)
	f.keep(c)
}

// Worded is Words with its sizes, mm, as the caller writes them.
func (c *Cut) Worded(length func(mm float64) string) string {
	var sizes []string
	free := [3]bool{true, true, true}
	for i, s := range c.Sizes {
		free[c.parts[i].axis] = false
		if s.From > 0 {
			sizes = append(sizes, fmt.Sprintf("%s to %s from the %s face", length(s.From), length(s.To), s.Face))
			continue
		}
		sizes = append(sizes, fmt.Sprintf("%s from the %s face", length(s.To), s.Face))
	}
	run := ""
	for k, is := range free {
		if is && len(c.parts) == 2 {
			run = ", " + through[k]
		}
	}
	head := ""
	switch c.Kind {
	case "face":
		return fmt.Sprintf("Cut the whole %s face back by %s", c.Sizes[0].Face, length(c.Sizes[0].To))
	case "step":
		head = fmt.Sprintf("Step along the %s edge", edge(c.parts))
	case "slope":
		head = fmt.Sprintf("Sloped face along the %s edge", edge(c.parts))
	case "slot":
		head = fmt.Sprintf("Slot in the %s face", c.Sizes[0].Face)
	case "corner":
		head = fmt.Sprintf("Box cut from the %s corner", edge(c.parts))
	}
	return head + run + ": " + strings.Join(sizes, ", ")
}

// edge names an edge or corner as one says it: "bottom front", "top left", "bottom front left".
func edge(parts []part) string {
	var name [3]string
	for _, p := range parts {
		name[p.axis] = faceNames[p.axis][p.side]
	}
	var said []string
	for _, k := range []int{2, 0, 1} {
		if name[k] != "" {
			said = append(said, name[k])
		}
	}
	return strings.Join(said, " ")
}

func figure(mm float64) string { return strconv.FormatFloat(mm, 'f', -1, 64) }

// Lies reports whether a place lies within the cut's planes.
func (c *Cut) Lies(x r3.Vec) bool {
	for _, p := range c.planes {
		if r3.Dot(p.n, x) > p.at+onPlane {
			return false
		}
	}
	return true
}
