package vessel

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// finder looks for the simple cuts that hold what is to be taken. Sizes are the least whole mm of their kind.
type finder struct {
	v      *Vessel
	lo, hi [3]float64 // of what is to be taken
	pts    [][3]float64
	seen   [3][][3]float64 // the corners of their hull as seen along each axis
	found  []Cut
}

// part is how far a cut goes in from a side of an axis: 0 the lower, 1 the upper.
type part struct {
	axis, side int
	from, to   float64
}

func (f *finder) room(axis int) float64 { return f.v.hi[axis] - f.v.lo[axis] }

// in is how far in from a side a place lies.
func (f *finder) in(axis, side int, p *[3]float64) float64 {
	if side == 1 {
		return math.Max(0, f.v.hi[axis]-p[axis])
	}
	return math.Max(0, p[axis]-f.v.lo[axis])
}

// from is how far in what is to be taken reaches from a side.
func (f *finder) from(axis, side int) part {
	if side == 1 {
		return part{axis, 1, 0, up(f.v.hi[axis] - f.lo[axis])}
	}
	return part{axis, 0, 0, up(f.hi[axis] - f.v.lo[axis])}
}

// between is from where to where, in from the upper side, it reaches; ok where it reaches neither side.
func (f *finder) between(axis int) (p part, ok bool) {
	p = part{axis, 1, math.Floor(f.v.hi[axis] - f.hi[axis] + 1e-6), up(f.v.hi[axis] - f.lo[axis])}
	return p, p.from >= atEdge && f.room(axis)-p.to >= atEdge
}

// up rounds up to whole mm; what is over by round-off only is not.
func up(mm float64) float64 { return math.Max(1, math.Ceil(mm-1e-6)) }

// search tries every kind on every face, edge and corner.
func (f *finder) search() {
	f.outlines()
	sides := [2]int{0, 1}
	for a := range 3 {
		for _, sa := range sides {
			f.boxes(face, f.from(a, sa))
			for b := range 3 {
				if b == a {
					continue
				}
				c := 3 - a - b
				if p, ok := f.between(b); ok {
					f.boxes(slot, f.from(a, sa), p)
				}
				f.tilt(a, sa, b)
				for _, sb := range sides {
					f.taper(a, sa, b, sb, a)
					f.taper(a, sa, b, sb, c)
					if b < a {
						continue
					}
					f.boxes(step, f.from(a, sa), f.from(b, sb))
					f.slope(a, sa, b, sb)
					for _, sc := range sides {
						f.wedge(a, sa, b, sb, c, sc)
					}
					if p, ok := f.between(c); ok {
						f.boxes(notch, f.from(a, sa), f.from(b, sb), p)
					}
				}
			}
			p, ok := f.between((a + 1) % 3)
			q, too := f.between((a + 2) % 3)
			if ok && too {
				f.boxes(pocket, f.from(a, sa), p, q)
				if sa == 0 {
					f.boxes(tunnel, p, q)
				}
			}
		}
	}
	for i := range 8 {
		f.boxes(corner, f.from(0, i&1), f.from(1, i>>1&1), f.from(2, i>>2))
		f.snip([3]int{i & 1, i >> 1 & 1, i >> 2})
	}
}

// way is how far in from a side a place lies, as a direction and what is added.
func (f *finder) way(axis, side int) (n r3.Vec, off float64) {
	if side == 1 {
		return r3.Scale(-1, f.v.axes[axis]), f.v.hi[axis]
	}
	return f.v.axes[axis], -f.v.lo[axis]
}

// flat is what lies within mm of a side.
func (f *finder) flat(axis, side int, mm float64) plane {
	n, off := f.way(axis, side)
	return plane{n, mm - off}
}

// through is the plane on which the ways in from some sides, each over its mm, come to one.
func (f *finder) through(parts ...part) plane {
	var n r3.Vec
	at := 1.0
	for _, p := range parts {
		m, off := f.way(p.axis, p.side)
		n = r3.Add(n, r3.Scale(1/p.to, m))
		at -= off / p.to
	}
	l := r3.Norm(n)
	return plane{r3.Scale(1/l, n), at / l}
}

// leaning is the plane whose way in from a side goes from one size at another side to another, room further in from that.
func (f *finder) leaning(axis, side, along, from int, here, there, room float64) plane {
	n, off := f.way(axis, side)
	m, more := f.way(along, from)
	k := (here - there) / room
	n = r3.Add(n, r3.Scale(k, m))
	l := r3.Norm(n)
	return plane{r3.Scale(1/l, n), (here - off - k*more) / l}
}

// boxes adds a cut with faces along the vessel's own.
func (f *finder) boxes(kind string, parts ...part) {
	c := Cut{Kind: kind}
	for _, p := range parts {
		if p.to >= f.room(p.axis) {
			return // that is the whole of it: a simpler cut says so
		}
		c.planes = append(c.planes, f.flat(p.axis, p.side, p.to))
		if p.from > 0 {
			c.planes = append(c.planes, f.flat(p.axis, p.side, p.from).reversed())
		}
		c.Sizes = append(c.Sizes, Size{Face: faceNames[p.axis][p.side], From: p.from, To: p.to})
	}
	f.keep(c, parts...)
}

// keep adds a cut that leaves something.
func (f *finder) keep(c Cut, parts ...part) {
	c.Folds = foldsOf[c.Kind]
	c.Litres, c.parts = f.v.within(c.planes...), parts
	if c.Litres < f.v.Litres*(1-1e-9) {
		c.Words = c.Worded(figure)
		f.found = append(f.found, c)
	}
}

// outlines finds the corners of the hulls of all that is to be taken as seen along each axis.
func (f *finder) outlines() {
	for k := range 3 {
		a, b := (k+1)%3, (k+2)%3
		at := f.outer(a, b)
		slices.SortFunc(at, func(p, q [3]float64) int { return cmp.Or(cmp.Compare(p[a], q[a]), cmp.Compare(p[b], q[b])) })
		for _, side := range [2]float64{1, -1} {
			f.seen[k] = append(f.seen[k], upper(at, a, b, side)...)
		}
	}
}

// outer leaves out, as seen along an axis, what lies within the polygon of the places furthest along some directions: that is no corner of the hull.
func (f *finder) outer(a, b int) [][3]float64 {
	const ways = 16
	var far [ways]*[3]float64
	for i := range far {
		v, u := math.Sincos(2 * math.Pi * float64(i) / ways)
		most := math.Inf(-1)
		for k := range f.pts {
			if d := u*f.pts[k][a] + v*f.pts[k][b]; d > most {
				most, far[i] = d, &f.pts[k]
			}
		}
	}
	var out [][3]float64
next:
	for i := range f.pts {
		p := &f.pts[i]
		for k, q := range far {
			o := far[(k+1)%ways]
			x, y := o[a]-q[a], o[b]-q[b]
			if l := math.Abs(x) + math.Abs(y); l > 0 && x*(p[b]-q[b])-y*(p[a]-q[a]) < 1e-9*l {
				out = append(out, *p)
				continue next
			}
		}
		if far[0][a] == far[ways/2][a] {
			out = append(out, *p) // all on one line
		}
	}
	return out
}

// upper are the corners of the upper side (1) or the lower (-1) of the hull of places in order, as seen with one axis to the right and another upwards.
func upper(at [][3]float64, a, b int, side float64) (hull [][3]float64) {
	for _, p := range at {
		for n := len(hull); n > 1; n = len(hull) {
			o, q := &hull[n-2], &hull[n-1]
			if side*((q[a]-o[a])*(p[b]-o[b])-(q[b]-o[b])*(p[a]-o[a])) < 0 {
				break
			}
			hull = hull[:n-1]
		}
		hull = append(hull, p)
	}
	return hull
}

// hull are corners of all that is to be taken as the way in from a first side and that from a second.
func (f *finder) hull(a, sa, b, sb int) [][2]float64 {
	var out [][2]float64
	for i := range f.seen[3-a-b] {
		p := &f.seen[3-a-b][i]
		out = append(out, [2]float64{f.in(a, sa, p), f.in(b, sb, p)})
	}
	return out
}

// off is the straight line from one side to the other, in whole mm, that has all of a hull on the near side and cuts off least; ok where there is one.
func off(hull [][2]float64, mostX, mostY float64) (x, y float64, ok bool) {
	least := 0.0
	for _, p := range hull {
		least = math.Max(least, p[1])
	}
	best := math.Inf(1)
	for h := up(least); h <= mostY; h++ {
		w := 1.0
		for _, p := range hull {
			if p[0] > 1e-9 {
				w = math.Max(w, p[0]/(1-p[1]/h))
			}
			if p[1] > h || p[1] == h && p[0] > 1e-9 {
				w = math.Inf(1)
			}
		}
		if w = up(w); w <= mostX && w*h < best {
			best, x, y, ok = w*h, w, h, true
		}
	}
	return x, y, ok
}

// over is the straight line over a hull, in whole mm at nought and at wide, with the least below it.
func over(hull [][2]float64, wide, most float64) (here, there float64, ok bool) {
	best := math.Inf(1)
	for h := 0.0; h <= most; h++ {
		t := 0.0
		for _, p := range hull {
			if s := p[0] / wide; s > 1e-9 {
				t = math.Max(t, (p[1]-h*(1-s))/s)
			} else if p[1] > h+1e-6 {
				t = math.Inf(1)
			}
		}
		if t = math.Max(0, math.Ceil(t-1e-6)); t <= most && h+t < best {
			best, here, there, ok = h+t, h, t, true
		}
	}
	return here, there, ok
}

// slope is an edge cut off.
func (f *finder) slope(a, sa, b, sb int) {
	if x, y, ok := off(f.hull(a, sa, b, sb), f.room(a), f.room(b)); ok {
		p, q := part{a, sa, 0, x}, part{b, sb, 0, y}
		f.keep(Cut{Kind: slope, Sizes: []Size{f.size(p), f.size(q)}, planes: []plane{f.through(p, q)}}, p, q)
	}
}

// wedge is an edge cut off as far as a place along it.
func (f *finder) wedge(a, sa, b, sb, c, sc int) {
	end := f.from(c, sc)
	if end.to >= f.room(c) {
		return // over all its length
	}
	if x, y, ok := off(f.hull(a, sa, b, sb), f.room(a), f.room(b)); ok {
		p, q := part{a, sa, 0, x}, part{b, sb, 0, y}
		f.keep(Cut{Kind: wedge, Sizes: []Size{f.size(p), f.size(q), f.size(end)}, planes: []plane{f.through(p, q), f.flat(c, sc, end.to)}}, p, q, end)
	}
}

// tilt is a whole face cut back, sloping along another way.
func (f *finder) tilt(a, sa, b int) {
	here, there, ok := over(f.hull(b, 1, a, sa), f.room(b), f.room(a))
	if !ok || here == there || here*there == 0 {
		return // a face or an edge cut off
	}
	p := part{a, sa, 0, math.Max(here, there)}
	f.keep(Cut{Kind: tilt, Sizes: f.leans(a, sa, b, here, there), planes: []plane{f.leaning(a, sa, b, 1, here, there, f.room(b))}}, p)
}

// taper is a step whose face on the second side slopes along a third way, or along the first.
func (f *finder) taper(a, sa, b, sb, c int) {
	wall := f.from(a, sa)
	if wall.to >= f.room(a) {
		return
	}
	sc, wide := 1, f.room(c)
	if c == a {
		sc, wide = sa, wall.to
	}
	here, there, ok := over(f.hull(c, sc, b, sb), wide, f.room(b))
	if !ok || here == there || here*there == 0 {
		return // a step or a wedge
	}
	sizes := f.leans(b, sb, c, here, there)
	if c == a {
		sizes[0].At, sizes[1].At = "at the "+faceNames[a][sa]+" face", "at the inner end"
	}
	f.keep(Cut{Kind: taper, Sizes: append([]Size{f.size(wall)}, sizes...), planes: []plane{f.flat(a, sa, wall.to), f.leaning(b, sb, c, sc, here, there, wide)}},
		wall, part{b, sb, 0, math.Max(here, there)})
}

func (f *finder) size(p part) Size {
	return Size{Face: faceNames[p.axis][p.side], From: p.from, To: p.to}
}

// leans are the two sizes of a face that slopes from the upper side of a way to the lower.
func (f *finder) leans(a, sa, along int, here, there float64) []Size {
	s := Size{Face: faceNames[a][sa]}
	t := s
	s.To, s.At = here, "at the "+faceNames[along][1]+" face"
	t.To, t.At = there, "at the "+faceNames[along][0]+" face"
	return []Size{s, t}
}

// snipWays is how many sizes each way are tried at first for a corner cut off, and mostSnips how often the search goes on with one more place that decides.
const (
	snipWays  = 24
	mostSnips = 60
)

// snip is a corner cut off by one flat face. What it cuts off is the product of its three sizes, which has one lowest place (its logarithm is convex in their reciprocals, and all that must be held are straight
// limits on those): it is found on a coarse net and followed by steps halved to a mm.
func (f *finder) snip(side [3]int) {
	in := func(p *[3]float64) (at [3]float64) {
		for k := range at {
			at[k] = f.in(k, side[k], p)
		}
		return at
	}
	var most [3]float64
	var few [][3]float64 // that decide
	for k := range f.seen {
		for i := range f.seen[k] {
			p := in(&f.seen[k][i])
			few = append(few, p)
			for j := range most {
				most[j] = math.Max(most[j], p[j])
			}
		}
	}
	// needs is what one place asks of the third size.
	needs := func(p *[3]float64, x, y float64) float64 {
		switch left := 1 - p[0]/x - p[1]/y; {
		case left > 1e-9:
			return p[2] / left
		case left < -1e-9 || p[2] > 1e-9:
			return math.Inf(1)
		}
		return 0
	}
	third := func(x, y float64) float64 {
		z := 1.0
		for i := range few {
			z = math.Max(z, needs(&few[i], x, y))
		}
		return z
	}
	for range mostSnips {
		x, y, ok := f.smallest(most, third)
		if !ok {
			return
		}
		z := up(third(x, y))
		worst, at := z+1e-6, -1
		for i := range f.pts {
			p := in(&f.pts[i])
			if n := needs(&p, x, y); n > worst {
				worst, at = n, i
			}
		}
		if at >= 0 { // that one decides too
			few = append(few, in(&f.pts[at]))
			continue
		}
		p, q, r := part{0, side[0], 0, x}, part{1, side[1], 0, y}, part{2, side[2], 0, z}
		f.keep(Cut{Kind: snip, Sizes: []Size{f.size(p), f.size(q), f.size(r)}, planes: []plane{f.through(p, q, r)}}, p, q, r)
		return
	}
}

// smallest finds the first two sizes of a corner cut off for which the product with the third is least.
func (f *finder) smallest(most [3]float64, third func(x, y float64) float64) (x, y float64, ok bool) {
	lo, hi := [2]float64{up(most[0]), up(most[1])}, [2]float64{math.Floor(f.room(0)), math.Floor(f.room(1))}
	best := math.Inf(1)
	try := func(u, v float64) {
		if u < lo[0] || u > hi[0] || v < lo[1] || v > hi[1] {
			return
		}
		if z := up(third(u, v)); z <= f.room(2) && u*v*z < best {
			best, x, y = u*v*z, u, v
		}
	}
	for i := range snipWays + 1 {
		for j := range snipWays + 1 {
			try(math.Round(lo[0]*math.Pow(hi[0]/lo[0], float64(i)/snipWays)), math.Round(lo[1]*math.Pow(hi[1]/lo[1], float64(j)/snipWays)))
		}
	}
	if math.IsInf(best, 1) {
		return 0, 0, false
	}
	for step := math.Ceil(math.Max(hi[0], hi[1]) / snipWays); ; {
		was, u, v := best, x, y
		for i := -1.0; i <= 1; i++ {
			for j := -1.0; j <= 1; j++ {
				try(u+i*step, v+j*step)
			}
		}
		if best == was {
			if step == 1 {
				return x, y, true
			}
			step = math.Ceil(step / 2)
		}
	}
}
