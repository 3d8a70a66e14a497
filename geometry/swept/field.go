package swept

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"
	"sync"

	"axleloft/geometry/clearance"

	"gonum.org/v1/gonum/spatial/r3"
)

// mostNodes of a grid.
const mostNodes = 6_000_000

// ErrGrid is returned where the step asked for would need too fine a grid.
var ErrGrid = errors.New("so fine a step needs too many places; give a larger one")

// Fine is how finely, and with how many goroutines.
type Fine struct {
	Step    float64 // mm between the places of the grid
	Workers int     // what comes out does not depend on it
	// Looked tells now and then how many of all the patches of the grid are done; nil: nobody asks. Called from several goroutines, one at a time.
	Looked func(done, all int)
}

// field holds, at the places of a grid, how near the mover comes to each less its margin, bounded from below so that what lies straight between them within the simplices of a cell is a bound too. Every cell is cut along
// its diagonal into the simplices of all orders of its axes (Freudenthal's cut: H. Freudenthal, "Simplizialzerlegungen von beschraenkter Flachheit", Annals of Mathematics 43, 1942; from memory), which match from cell
// to cell.
//
// Why that is a bound: the distance from a convex piece over a patch of positions is bounded by a concave function of the place (clearance.Sweep.Places), which lies above what is straight between its values at the corners
// of a cell; so does the least of several, and values lowered further only lower what lies between.
type field struct {
	m      *Mover
	n      [3]int // places along the axes; 1 along the axis of a section
	lo     r3.Vec
	step   float64
	width  float64 // mm between what is found and what is proved, in the middle of a cell
	beyond float64 // mm: more than a cell's diagonal; values are no further from 0
	corner []int   // which of a box's eight corners a cell has
	value  []float64
	of     []int32 // per cell: its leaf, -1 where nothing ends
	leaves []leaf
}

// leaf is a cell near which the mover ends.
type leaf struct {
	at    [3]int32
	low   [8]float64   // bounds at its corners
	near  [][8]float64 // what is found at its corners at some single positions, straight between: nowhere is the mover further
	final bool         // something is found
}

const (
	keptNear = 4    // positions kept of a leaf
	chunk    = 16   // cells along a patch of the grid that one goroutine works at
	rounding = 5e-4 // mm: what a file of single precision may move a place by
	offNode  = 0.02 // of the step: nearer to a place than this nothing ends, so that no triangle is lost in a file's rounding
)

// newField lays a grid over a box; axis 0 to 2 makes it flat, at a station.
func newField(m *Mover, lo, hi r3.Vec, axis int, at float64, how *Fine) (*field, error) {
	f := &field{m: m, step: how.Step}
	f.width = math.Max(0.1, how.Step/12)
	f.beyond = how.Step * 1.75 // more than a cell's diagonal
	from, to := [3]float64{lo.X, lo.Y, lo.Z}, [3]float64{hi.X, hi.Y, hi.Z}
	var start [3]float64
	nodes := 1.0
	for k := range 3 {
		if k == axis {
			f.n[k], start[k] = 1, at
			continue
		}
		first := math.Floor(from[k]/how.Step) - 1 // places do not depend on the part's own box, so sections of neighbours match
		last := math.Ceil(to[k]/how.Step) + 1
		if !(last-first < mostNodes) {
			return nil, ErrGrid
		}
		f.n[k], start[k] = int(last-first)+1, first*how.Step
		nodes *= float64(f.n[k])
	}
	if !(nodes <= mostNodes) {
		return nil, ErrGrid
	}
	f.lo = r3.Vec{X: start[0], Y: start[1], Z: start[2]}
	for i := range 8 {
		if axis < 0 || i>>axis&1 == 0 {
			f.corner = append(f.corner, i)
		}
	}
	f.value = make([]float64, f.n[0]*f.n[1]*f.n[2])
	f.of = make([]int32, len(f.value))
	for i := range f.value {
		f.value[i], f.of[i] = math.NaN(), -1
	}
	return f, nil
}

func (f *field) index(i, j, k int) int { return (k*f.n[1]+j)*f.n[0] + i }

// place is a place of the grid, in steps.
func (f *field) place(i, j, k float64) r3.Vec {
	return r3.Vec{X: f.lo.X + i*f.step, Y: f.lo.Y + j*f.step, Z: f.lo.Z + k*f.step}
}

// node is corner c of the cell at a place of the grid.
func (f *field) node(at [3]int32, c int) int {
	return f.index(int(at[0])+c&1, int(at[1])+c>>1&1, int(at[2])+c>>2&1)
}

var bodyAxes = [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}

// patch is a box of cells, from a to b in places of the grid.
type patch struct{ a, b [3]int }

func (f *field) block(p *patch) (b clearance.Block, radius float64) {
	b.Axes = bodyAxes
	b.At = f.place(float64(p.a[0]+p.b[0])/2, float64(p.a[1]+p.b[1])/2, float64(p.a[2]+p.b[2])/2)
	sum := 0.0
	for k := range 3 {
		b.Half[k] = float64(p.b[k]-p.a[k]) * f.step / 2
		sum += b.Half[k] * b.Half[k]
	}
	return b, math.Sqrt(sum)
}

// looked is what one patch came to.
type looked struct {
	leaves []leaf
	in     []patch // all of it is taken
}

// digger is the work space of one goroutine.
type digger struct {
	f     *field
	w     *clearance.Sweep
	out   *looked
	count int
}

// fill works out the grid.
func (f *field) fill(ctx context.Context, how *Fine) error {
	var all []patch
	cells := [3]int{max(1, f.n[0]-1), max(1, f.n[1]-1), max(1, f.n[2]-1)}
	for k := 0; k < cells[2]; k += chunk {
		for j := 0; j < cells[1]; j += chunk {
			for i := 0; i < cells[0]; i += chunk {
				all = append(all, patch{[3]int{i, j, k}, [3]int{min(i+chunk, f.n[0]-1), min(j+chunk, f.n[1]-1), min(k+chunk, f.n[2]-1)}})
			}
		}
	}
	list := make([]looked, len(all))
	err := f.spread(ctx, how, len(all), func(d *digger, i int) error {
		d.out = &list[i]
		return d.dig(ctx, all[i], d.w.Start())
	})
	if err != nil {
		return err
	}
	for i := range list {
		for _, l := range list[i].leaves {
			f.of[f.index(int(l.at[0]), int(l.at[1]), int(l.at[2]))] = int32(len(f.leaves))
			f.leaves = append(f.leaves, l)
			for _, c := range f.corner {
				if at := &f.value[f.node(l.at, c)]; !(*at <= l.low[c]) {
					*at = l.low[c]
				}
			}
		}
	}
	for i := range list {
		for _, p := range list[i].in {
			for k := p.a[2]; k <= p.b[2]; k++ {
				for j := p.a[1]; j <= p.b[1]; j++ {
					for n := f.index(p.a[0], j, k); n <= f.index(p.b[0], j, k); n++ {
						if math.IsNaN(f.value[n]) {
							f.value[n] = -f.beyond
						}
					}
				}
			}
		}
	}
	f.offNodes()
	return f.finish(ctx, how)
}

// offNodes keeps where the mover ends a little off the places of the grid. A bound may be lowered; one that is not negative may be raised where nothing ends beside it, since nothing changes its sign then.
func (f *field) offNodes() {
	edge := offNode * f.step
	if len(f.corner) < 8 {
		edge *= 1e-4
	}
	beside := func(i int) bool {
		at := [3]int{i % f.n[0], i / f.n[0] % f.n[1], i / (f.n[0] * f.n[1])}
		for _, c := range f.corner[1:] {
			for _, way := range [2]int{1, -1} {
				n, in := 0, true
				for k := 2; k >= 0; k-- {
					x := at[k] + way*(c>>k&1)
					in = in && x >= 0 && x < f.n[k]
					n = n*f.n[k] + x
				}
				if in && f.value[n] < 0 {
					return true
				}
			}
		}
		return false
	}
	var low, high []int
	for i, v := range f.value {
		switch {
		case math.IsNaN(v):
			f.value[i] = f.beyond
		case v >= edge || v <= -edge:
		case v < 0:
			low = append(low, i)
		default:
			high = append(high, i)
		}
	}
	for _, i := range high {
		if beside(i) {
			low = append(low, i)
		}
	}
	for _, i := range high {
		f.value[i] = edge
	}
	for _, i := range low {
		f.value[i] = -edge
	}
}

// spread has goroutines do n pieces of work.
func (f *field) spread(ctx context.Context, how *Fine, n int, work func(d *digger, i int) error) error {
	var mu sync.Mutex
	var wait sync.WaitGroup
	var first error
	next, done := 0, 0
	for range max(1, min(how.Workers, n)) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			d := &digger{f: f, w: f.m.sweep()}
			for {
				mu.Lock()
				i := next
				next++
				stop := first != nil
				mu.Unlock()
				if i >= n || stop {
					return
				}
				err := work(d, i)
				mu.Lock()
				if done++; err != nil && first == nil {
					first = err
				}
				if how.Looked != nil && first == nil {
					how.Looked(done, n)
				}
				mu.Unlock()
			}
		}()
	}
	wait.Wait()
	return first
}

// dig halves a patch till what is left of it are cells near which the mover ends.
func (d *digger) dig(ctx context.Context, p patch, list []clearance.Moment) error {
	if d.count++; d.count%64 == 0 && ctx.Err() != nil {
		return ctx.Err()
	}
	f := d.f
	b, radius := f.block(&p)
	s, keep := d.w.Sift(&b, list, nil, 0, clearance.MoreSlack*radius)
	switch s {
	case clearance.Free:
		return nil
	case clearance.Taken:
		d.out.in = append(d.out.in, p)
		return nil
	}
	long := 0
	for k := range 3 {
		if p.b[k]-p.a[k] > p.b[long]-p.a[long] {
			long = k
		}
	}
	if p.b[long]-p.a[long] <= 1 {
		l := leaf{at: [3]int32{int32(p.a[0]), int32(p.a[1]), int32(p.a[2])}}
		d.settle(&l, keep, 0)
		d.out.leaves = append(d.out.leaves, l)
		return nil
	}
	mid := (p.a[long] + p.b[long]) / 2
	first, second := p, p
	first.b[long], second.a[long] = mid, mid
	if err := d.dig(ctx, first, keep); err != nil {
		return err
	}
	return d.dig(ctx, second, keep)
}

func (f *field) cell(at [3]int32) patch {
	p := patch{a: [3]int{int(at[0]), int(at[1]), int(at[2])}}
	for k := range 3 {
		p.b[k] = min(p.a[k]+1, f.n[k]-1)
	}
	return p
}

// settle cuts the positions of a leaf finer, and measures it. What comes no nearer than its margin and beyond anywhere in it is passed over: where nothing comes within its margin nothing has to be kept out.
func (d *digger) settle(l *leaf, list []clearance.Moment, beyond float64) {
	f := d.f
	p := f.cell(l.at)
	b, _ := f.block(&p)
	kept := d.w.SettleAll(&b, list, beyond, f.width)
	var at [8]r3.Vec
	var least, found [8]float64
	n := len(f.corner)
	for i, c := range f.corner {
		at[i] = b.Corner(c)
		l.low[c] = f.beyond
	}
	for _, m := range kept {
		d.w.LeastAt(m.Moment, b.At, at[:n], least[:n])
		margin := d.w.Swept[m.Piece].Margin
		for i, c := range f.corner {
			l.low[c] = math.Min(l.low[c], math.Max(least[i]-margin-rounding, -f.beyond))
		}
	}
	slices.SortStableFunc(kept, func(a, b clearance.Settled) int { return cmp.Compare(a.Found, b.Found) })
	l.near = l.near[:0]
	for _, m := range kept[:min(len(kept), keptNear)] {
		if math.IsInf(m.Found, 1) {
			break
		}
		d.w.FoundAt(m.Moment, b.At, at[:n], found[:n])
		margin := d.w.Swept[m.Piece].Margin
		var k [8]float64
		for i, c := range f.corner {
			k[c] = found[i] - margin
		}
		l.near = append(l.near, k)
	}
	l.final = len(l.near) > 0
}

// finish settles the cells in which the surface lies and nothing is found, for what is said of how much larger it is drawn; the bounds stay.
func (f *field) finish(ctx context.Context, how *Fine) error {
	var left []int32
	cells := [3]int{max(1, f.n[0]-1), max(1, f.n[1]-1), max(1, f.n[2]-1)}
	for k := range cells[2] {
		for j := range cells[1] {
			for i := range cells[0] {
				at := [3]int32{int32(i), int32(j), int32(k)}
				if in, out := f.signs(at); !in || !out {
					continue
				}
				n := &f.of[f.index(i, j, k)]
				if *n < 0 {
					*n = int32(len(f.leaves))
					f.leaves = append(f.leaves, leaf{at: at})
				}
				if !f.leaves[*n].final {
					left = append(left, *n)
				}
			}
		}
	}
	const run = 64
	quiet := *how
	quiet.Looked = nil
	return f.spread(ctx, &quiet, (len(left)+run-1)/run, func(d *digger, i int) error {
		for _, n := range left[i*run : min((i+1)*run, len(left))] {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			l := &f.leaves[n]
			p := f.cell(l.at)
			b, radius := f.block(&p)
			_, list := d.w.Sift(&b, d.w.Start(), nil, f.beyond, clearance.MoreSlack*radius)
			d.settle(l, list, f.beyond)
		}
		return nil
	})
}

// signs tells whether a cell has corners within and without.
func (f *field) signs(at [3]int32) (in, out bool) {
	for _, c := range f.corner {
		if f.value[f.node(at, c)] < 0 {
			in = true
		} else {
			out = true
		}
	}
	return in, out
}

// further is how far beyond what is found the straight between some places of a leaf may lie, mm: each place lies t of the way from one corner to another.
func (l *leaf) further(ends [][2]int, t []float64) float64 {
	best := math.Inf(1)
	for i := range l.near {
		k := &l.near[i]
		worst := math.Inf(-1)
		for n, e := range ends {
			worst = math.Max(worst, k[e[0]]+t[n]*(k[e[1]]-k[e[0]]))
		}
		best = math.Min(best, worst)
	}
	return best
}

// edgeKey names the way from one corner of a cell to another, whichever cell it is told from.
func (f *field) edgeKey(at [3]int32, a, b int) int64 {
	if a > b { // all corners of a simplex are in one order, so one of two contains the other
		a, b = b, a
	}
	return int64(f.node(at, a))*8 + int64(b&^a)
}

// along is where the sign changes between two corners of a cell: how far from the first to the second.
func (f *field) along(at [3]int32, a, b int) float64 {
	va, vb := f.value[f.node(at, a)], f.value[f.node(at, b)]
	return va / (va - vb)
}

// spot is that place.
func (f *field) spot(at [3]int32, a, b int, t float64) r3.Vec {
	p := func(c, k int) float64 { return float64(int(at[k]) + c>>k&1) }
	q := func(k int) float64 { return p(a, k) + t*(p(b, k)-p(a, k)) }
	return f.place(q(0), q(1), q(2))
}
