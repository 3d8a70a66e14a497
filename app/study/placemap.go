package study

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"
	"sync/atomic"
	"time"

	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/alike"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"

	"gonum.org/v1/gonum/spatial/r3"
)

// The squares of a map of places, mm.
const (
	PlaceReach  = 200.0 // the middles of the first squares lie as far from the pivot as this, to every side
	placeCoarse = 40.0  // width of the first squares
	placeTried  = 10.0  // width of the last looked at at positions only
	PlaceFine   = 5.0   // width of the last, along borders
	placeBand   = 20.0  // squares wider than this are parted too where a border may run through them unseen
)

// placeTell is how often a map in the making is shown.
const placeTell = 300 * time.Millisecond

// PlaceCell is a square of a map: what would come of the pivot at its middle.
type PlaceCell struct {
	U, V, Size float64 // its middle in the map's axes and its width, mm
	Place
}

// PlaceMap is what would come of a pivot at places in one plane, its third coordinate as it is.
type PlaceMap struct {
	U, V  edit.Axis
	At    r3.Vec // where the pivot is
	Cells []PlaceCell
}

// PlaceWay is how far a pivot can go one way, the others of its coordinates as they are.
type PlaceWay struct {
	Axis edit.Axis
	Sign float64
	Far  float64 // mm, to 1: how far it stays free; where it is not free here, from how far on it is. At most PlaceReach
	End  bool    // something ends it there; else it goes on, or no free place comes, as far as was looked
	By   Place   // what comes next
}

// Places is the room of one pivot, as far as it is worked out. Read-only.
type Places struct {
	Pivot  edit.Pivot
	Study  *Study
	At     r3.Vec
	Here   Place
	Maps   [3]PlaceMap // side X Z, rear Y Z, plan X Y
	Ways   []PlaceWay  // six; nil: not yet worked out
	Finest float64     // width of the squares along borders so far, mm
	Done   bool
	Looked int // places so far
}

// The planes of the maps.
var placePlanes = [3][2]edit.Axis{{edit.X, edit.Z}, {edit.Y, edit.Z}, {edit.X, edit.Y}}

// Places works out where a pivot could sit, its twin with it: in each of three planes through where it is, at the middles of squares, coarse first, down to finest mm (PlaceFine, or 10, 20, 40) along borders. tell, unless nil, is called from the caller's
// goroutine with what is there so far. The study must have its gaps. The error is the context's, or a plain sentence.
//
// A square is parted in four where one beside it is in another state and, down to 10 mm, where its own nearest gap is nearer to a border than the square is large, as if a gap changed as
// fast as the pivot moves. What is narrower than a square and touches none of its neighbours can be missed.
func (s *Study) Places(ctx context.Context, p edit.Pivot, finest float64, tell func(*Places)) (*Places, error) {
	k, err := s.places(p)
	if err != nil {
		return nil, err
	}
	f := &placeFinder{places: k, tell: tell, finest: math.Max(finest, PlaceFine)}
	f.out = Places{Pivot: p, Study: s, Finest: placeCoarse}
	f.out.At, _ = edit.At(s.Job, p)
	if err := f.run(ctx); err != nil {
		return nil, err
	}
	return f.snapshot(), nil
}

// node is a square in the making.
type node struct {
	u, v, size float64
	place      Place
	kids       *[4]node
}

// placeFinder is a search going on.
type placeFinder struct {
	*places
	out    Places
	grids  [3]grid2
	finest float64
	tell   func(*Places)
	told   time.Time
	looked atomic.Int64
}

// grid2 is the first squares of one map.
type grid2 struct {
	axes  [2]edit.Axis
	lo    [2]float64 // corner
	n     int
	roots []node
}

func (f *placeFinder) run(ctx context.Context) error {
	here, err := f.exact(ctx, f.out.At)
	if err != nil {
		return err
	}
	f.out.Here = here
	var roots []work // the first squares
	for m := range f.grids {
		g := &f.grids[m]
		*g = newGrid2(placePlanes[m], f.out.At)
		for i := range g.roots {
			roots = append(roots, work{m, &g.roots[i]})
		}
	}
	if err := f.all(ctx, roots, f.rough); err != nil {
		return err
	}
	f.show()
	if err := f.ways(ctx); err != nil {
		return err
	}
	for size := placeCoarse; size > math.Max(placeTried, f.finest); size /= 2 {
		if err := f.closer(ctx, size, f.rough); err != nil {
			return err
		}
	}
	// Then between positions too. What that finds to be other than it looked makes new borders.
	for {
		if err := f.all(ctx, f.unproved(), f.exact); err != nil {
			return err
		}
		f.show()
		n := f.looked.Load()
		for size := placeCoarse; size > f.finest; size /= 2 {
			if err := f.closer(ctx, size, f.exact); err != nil {
				return err
			}
		}
		if f.looked.Load() == n {
			break
		}
	}
	f.out.Done = true
	return nil
}

// closer parts the squares of a width that a border may run through, and looks at the parts.
func (f *placeFinder) closer(ctx context.Context, size float64, look func(context.Context, r3.Vec) (Place, error)) error {
	var list []work
	for m := range f.grids {
		g := &f.grids[m]
		var parted []*node
		for i := range g.roots {
			parted = g.toPart(&g.roots[i], size, parted)
		}
		for _, n := range parted {
			n.part()
			for i := range n.kids {
				list = append(list, work{m, &n.kids[i]})
			}
		}
	}
	if err := f.all(ctx, list, look); err != nil {
		return err
	}
	f.out.Finest = min(f.out.Finest, size/2)
	f.show()
	return nil
}

// unproved are the squares that were only looked at at positions and would be free or tight, those next to the pivot first.
func (f *placeFinder) unproved() []work {
	var list []work
	far := map[*node]float64{}
	for m := range f.grids {
		g := &f.grids[m]
		for i := range g.roots {
			g.roots[i].each(func(n *node) {
				if n.place.State <= PlaceTight && !n.place.looked {
					list = append(list, work{m, n})
					far[n] = r3.Norm(r3.Sub(g.point(n.u, n.v, f.out.At), f.out.At))
				}
			})
		}
	}
	slices.SortStableFunc(list, func(a, b work) int { return cmp.Compare(far[a.n], far[b.n]) })
	return list
}

// work is a square whose place is to be looked at.
type work struct {
	m int
	n *node
}

// all looks at the places of squares, on all cores, and shows now and then what is there.
func (f *placeFinder) all(ctx context.Context, list []work, look func(context.Context, r3.Vec) (Place, error)) error {
	workers := f.s.cores()
	for len(list) > 0 {
		now := list[:min(len(list), 16*workers)]
		list = list[len(now):]
		limits.Spread(workers, len(now), func() func(int) {
			return func(i int) {
				w := now[i]
				if p, err := look(ctx, f.grids[w.m].point(w.n.u, w.n.v, f.out.At)); err == nil {
					w.n.place = p
				}
				f.looked.Add(1)
			}
		})
		if err := ctx.Err(); err != nil {
			return err
		}
		if f.tell != nil && time.Since(f.told) >= placeTell && !f.unseen() {
			f.show()
		}
	}
	return nil
}

// unseen reports whether a first square has not been looked at.
func (f *placeFinder) unseen() bool {
	n := 0
	for m := range f.grids {
		n += len(f.grids[m].roots)
	}
	return int(f.looked.Load()) < n
}

func (f *placeFinder) show() {
	if f.tell != nil {
		f.tell(f.snapshot())
	}
	f.told = time.Now()
}

// snapshot is what is there so far. Squares not looked at yet are as the one they are part of.
func (f *placeFinder) snapshot() *Places {
	out := f.out
	out.Looked = int(f.looked.Load())
	out.Ways = slices.Clone(f.out.Ways)
	for m := range f.grids {
		g := &f.grids[m]
		list := PlaceMap{U: g.axes[0], V: g.axes[1], At: out.At}
		for i := range g.roots {
			g.roots[i].each(func(n *node) { list.Cells = append(list.Cells, PlaceCell{n.u, n.v, n.size, n.place}) })
		}
		out.Maps[m] = list
	}
	return &out
}

func newGrid2(axes [2]edit.Axis, at r3.Vec) grid2 {
	half := math.Round(PlaceReach / placeCoarse)
	g := grid2{axes: axes, n: int(2*half) + 1}
	for i, a := range axes {
		g.lo[i] = [3]float64{at.X, at.Y, at.Z}[a] - (half+0.5)*placeCoarse
	}
	for r := range g.n {
		for c := range g.n {
			g.roots = append(g.roots, node{u: g.lo[0] + (float64(c)+0.5)*placeCoarse, v: g.lo[1] + (float64(r)+0.5)*placeCoarse, size: placeCoarse})
		}
	}
	return g
}

// point is a place of the map in body axes.
func (g *grid2) point(u, v float64, at r3.Vec) r3.Vec {
	c := [3]float64{at.X, at.Y, at.Z}
	c[g.axes[0]], c[g.axes[1]] = u, v
	return r3.Vec{X: c[0], Y: c[1], Z: c[2]}
}

// find is the smallest square that holds a place; nil off the map.
func (g *grid2) find(u, v float64) *node {
	c, r := int(math.Floor((u-g.lo[0])/placeCoarse)), int(math.Floor((v-g.lo[1])/placeCoarse))
	if c < 0 || r < 0 || c >= g.n || r >= g.n {
		return nil
	}
	n := &g.roots[r*g.n+c]
	for n.kids != nil {
		i := 0
		if u >= n.u {
			i |= 1
		}
		if v >= n.v {
			i |= 2
		}
		n = &n.kids[i]
	}
	return n
}

// part makes four of a square.
func (n *node) part() {
	n.kids = &[4]node{}
	for i := range n.kids {
		q := n.size / 4
		du, dv := -q, -q
		if i&1 != 0 {
			du = q
		}
		if i&2 != 0 {
			dv = q
		}
		n.kids[i] = node{u: n.u + du, v: n.v + dv, size: n.size / 2, place: n.place}
	}
}

// each calls visit for every square that is not parted.
func (n *node) each(visit func(*node)) {
	if n.kids == nil {
		visit(n)
		return
	}
	for i := range n.kids {
		n.kids[i].each(visit)
	}
}

// toPart collects the squares of a width that a border may run through.
func (g *grid2) toPart(n *node, size float64, list []*node) []*node {
	switch {
	case n.kids != nil:
		for i := range n.kids {
			list = g.toPart(&n.kids[i], size, list)
		}
		return list
	case n.size > size || n.size < size:
		return list
	}
	p := &n.place
	reach := n.size / math.Sqrt2
	if size > placeBand && p.State != PlaceNot && p.State != PlaceRunsOut && (math.Abs(p.hit) < reach || math.Abs(p.want) < reach) {
		return append(list, n)
	}
	h := n.size/2 + 0.01
	for _, d := range [12][2]float64{{-1, -0.5}, {-1, 0.5}, {1, -0.5}, {1, 0.5}, {-0.5, -1}, {0.5, -1}, {-0.5, 1}, {0.5, 1}, {-1, -1}, {-1, 1}, {1, -1}, {1, 1}} {
		if o := g.find(n.u+d[0]*h, n.v+d[1]*h); o != nil && o.place.State != p.State {
			return append(list, n)
		}
	}
	return list
}

// The steps of a way, mm.
const (
	wayStep = 10.0
	wayFine = 1.0
)

// ways finds how far the pivot can go each way.
func (f *placeFinder) ways(ctx context.Context) error {
	list := make([]PlaceWay, 0, 6)
	for _, a := range [3]edit.Axis{edit.Z, edit.X, edit.Y} {
		for _, s := range [2]float64{1, -1} {
			list = append(list, PlaceWay{Axis: a, Sign: s})
		}
	}
	errs := make([]error, len(list))
	limits.Spread(f.s.cores(), len(list), func() func(int) {
		return func(i int) { errs[i] = f.way(ctx, &list[i]) }
	})
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	f.out.Ways = list
	return nil
}

// way finds how far one way goes: roughly by steps, then to 1 mm.
func (f *placeFinder) way(ctx context.Context, w *PlaceWay) error {
	free := f.out.Here.State == PlaceFree
	at := func(t float64) r3.Vec {
		c := [3]float64{f.out.At.X, f.out.At.Y, f.out.At.Z}
		c[w.Axis] += w.Sign * t
		return r3.Vec{X: c[0], Y: c[1], Z: c[2]}
	}
	lo := 0.0
	for t := wayStep; t <= PlaceReach; t += wayStep {
		p, err := f.rough(ctx, at(t))
		if err == nil && free == (p.State == PlaceFree) && math.Abs(p.want) < wayStep {
			p, err = f.exact(ctx, at(t)) // the positions tried may not be enough to tell
		}
		if err != nil {
			return err
		}
		if free == (p.State == PlaceFree) {
			lo = t
			continue
		}
		hi := t
		w.By, w.End = p, true
		for hi-lo > wayFine {
			mid := (lo + hi) / 2
			p, err := f.exact(ctx, at(mid))
			if err != nil {
				return err
			}
			if free == (p.State == PlaceFree) {
				lo = mid
			} else {
				hi, w.By = mid, p
			}
		}
		if w.Far = lo; !free {
			w.Far = hi
		}
		return nil
	}
	w.Far = PlaceReach
	return nil
}

// wayWords is the way in a word: twins go out and in.
func (p *Places) wayWords(w *PlaceWay) string {
	up := w.Sign > 0
	switch {
	case w.Axis == edit.Z && up:
		return words.T("up")
	case w.Axis == edit.Z:
		return words.T("down")
	case w.Axis == edit.X && up:
		return words.T("ahead")
	case w.Axis == edit.X:
		return words.T("behind")
	case p.Pivot.Side != 0 && up == (p.At.Y >= 0):
		return words.T("out")
	case p.Pivot.Side != 0:
		return words.T("in")
	case up:
		return words.T("left")
	}
	return words.T("right")
}

// HereWords say how the pivot is where it is, and how far it can go each way, in the job's unit: "From here free 34 mm up, 12 down, 60 ahead, 18 behind, over 200 out, 9 in."
func (p *Places) HereWords() string {
	w := p.Study.wording()
	free := p.Here.State == PlaceFree
	head := words.T("Here: ") + p.Study.PlaceWords(&p.Here) + "."
	if p.Ways == nil {
		return head
	}
	var list []string
	for i := range p.Ways {
		k := &p.Ways[i]
		far := math.Floor(k.Far + 1e-9)
		if !free {
			far = math.Ceil(k.Far - 1e-9)
		}
		switch {
		case free && !k.End:
			list = append(list, words.F("over %s %s", w.number(PlaceReach), p.wayWords(k)))
		case free || k.End:
			list = append(list, w.number(far)+" "+p.wayWords(k))
		}
	}
	unit := "mm"
	if w.inch {
		unit = "in"
	}
	switch {
	case free:
		return words.F("From here free, %s: %s.", unit, strings.Join(list, ", "))
	case len(list) == 0:
		return head + " " + words.F("Not free within %s straight up, down, or to any side.", w.length(PlaceReach))
	}
	return head + " " + words.F("Free from, %s: %s.", unit, strings.Join(list, ", "))
}

// HowWords say how it is worked out, and how far.
func (p *Places) HowWords() string {
	w := p.Study.wording()
	total, proved := 0, 0
	for m := range p.Maps {
		for i := range p.Maps[m].Cells {
			if c := &p.Maps[m].Cells[i]; c.State <= PlaceTight {
				total++
				if c.Proved {
					proved++
				}
			}
		}
	}
	how := words.T("at the positions tried")
	switch {
	case total > 0 && proved == total:
		how = words.T("proved at every square's middle")
	case proved > 0:
		how = words.F("proved at the middles of %d of %d squares", proved, total)
	}
	others := words.T("Pairs it takes no part in count where they get worse.")
	if p.Done {
		return words.F("Borders to %s; %s. %s", w.length(p.Finest), how, others)
	}
	return words.F("Working out, so far to %s, %d places; %s. %s", w.length(p.Finest), p.Looked, how, others)
}

// Differs reports whether a job differs from the one the room was worked out for by more than where the pivot is.
func (p *Places) Differs(j *job.Job) bool {
	away := func(j *job.Job) *job.Job {
		c := j.Clone()
		if edit.SetMeasured(c, p.Pivot, false) != nil {
			return nil
		}
		c.Keep = nil
		for _, by := range [2]r3.Vec{{X: 1, Y: 1, Z: 1}, {}} { // from elsewhere to one place, so that what is kept of its numbers is the same too
			if edit.Move(c, p.Pivot, r3.Add(p.At, by)) != nil {
				return nil
			}
		}
		return c
	}
	a, b := away(p.Study.Job), away(j)
	return a == nil || b == nil || !alike.Same(a, b)
}
