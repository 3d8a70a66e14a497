package clearance

import (
	"math"

	"axleloft/geometry/cell"
	"axleloft/geometry/motion"
	"axleloft/geometry/shape"

	"gonum.org/v1/gonum/spatial/r3"
)

// Swept is one convex piece of a mover on its way through the range, and how near to it counts.
type Swept struct {
	Part   int     // of the model
	Margin float64 // mm
	Proved bool    // its motion is bounded between positions; else only the positions tried are known
	Edge   bool    // of one that is proved: what it does near the end of what the links let the axle do, where only positions are tried
}

// Moment is a piece over a patch of positions or, where its motion is not bounded, at one position tried.
type Moment struct{ Cell, Piece int32 }

// Block is a box of the frame: its centre in body axes, mm, half its size, mm, and its own unit axes.
type Block struct {
	At   r3.Vec
	Half [3]float64
	Axes [3]r3.Vec
}

// Sweep tells how near movers come to places of the frame over the whole range. One goroutine at a time.
type Sweep struct {
	Swept []Swept
	Last  float64 // mm of travel before the links end it in which, of what is proved, only positions are tried; 0: none

	c      *Model
	tree   *cell.Tree // nil: only the positions tried
	inside func(*motion.Pose) bool
	tried  []motion.Pose
	edge   []motion.Pose // the positions tried near the end of what the links let the axle do
	pieces []*piece
	onAxle []bool
	stands []*stands     // per cell
	moves  [][]*inMotion // per piece, per cell
	shape  shape.Scratch
	ball   moving
	room   []cell.Point
}

// standing is a pose of a cell that stands for it; ok where it lies within the range.
type standing struct {
	at cell.Standing
	ok bool
}

// stands are the poses known of a cell: in the middle of what the limits leave of it, and by its corners; nil: not yet asked for.
type stands struct {
	middle *standing
	corner [maxCorners]*standing
}

// inMotion is a piece over a cell.
type inMotion struct {
	over   moving
	ok     bool                     // its motion is bounded
	found  shape.Piece              // in body axes, at the cell's own pose
	within bool                     // that is in the range
	corner [maxCorners]*shape.Piece // the same by the corners of what is left of the cell; nil: not yet asked for, or not in the range
}

// NewSweep lists what is tested against a part of the frame: the movers less what lies within their own brackets, each with the gap wanted of the pair. inside as for a Prover; tried
// are positions of the range for what cannot be bounded, and for all where over is nil. The cells of over are split.
func (c *Model) NewSweep(part int, over *cell.Cover, inside func(*motion.Pose) bool, tried []motion.Pose) *Sweep {
	w := c.newSweep(over, inside, tried)
	all := c.pieces()
	for i := range c.Pairs {
		mover, side := c.Pairs[i].A, c.sides[i][0]
		switch part {
		case c.Pairs[i].B:
		case c.Pairs[i].A:
			mover, side = c.Pairs[i].B, c.sides[i][1]
		default:
			continue
		}
		w.add(mover, all[side], c.Pairs[i].Required)
	}
	return w
}

// NewPartSweep is a sweep of one whole mover with a margin of the caller's.
func (c *Model) NewPartSweep(part int, margin float64, over *cell.Cover, inside func(*motion.Pose) bool, tried []motion.Pose) *Sweep {
	w := c.newSweep(over, inside, tried)
	w.add(part, c.pieces()[part], margin)
	return w
}

func (c *Model) newSweep(over *cell.Cover, inside func(*motion.Pose) bool, tried []motion.Pose) *Sweep {
	w := &Sweep{c: c, inside: inside, tried: tried}
	if over != nil {
		w.tree, w.edge, w.Last = over.Tree, over.Tried, over.Last
	}
	return w
}

// Proved reports whether every mover's motion is bounded between positions, wherever the cells reach.
func (w *Sweep) Proved() bool {
	for i := range w.Swept {
		if !w.Swept[i].Proved && !w.Swept[i].Edge {
			return false
		}
	}
	return true
}

func (w *Sweep) add(mover int, pieces []piece, margin float64) {
	put := func(p *piece, s Swept) {
		w.Swept = append(w.Swept, s)
		w.pieces = append(w.pieces, p)
		w.onAxle = append(w.onAxle, p.sort == carried)
		w.moves = append(w.moves, nil)
	}
	for k := range pieces {
		p := &pieces[k]
		proved := w.tree != nil && p.bounded()
		put(p, Swept{Part: mover, Margin: margin, Proved: proved})
		if proved && len(w.edge) > 0 {
			put(p, Swept{Part: mover, Margin: margin, Edge: true})
		}
	}
}

// Start lists every piece over the whole range.
func (w *Sweep) Start() []Moment {
	var list []Moment
	for i := range w.Swept {
		if w.Swept[i].Proved {
			for _, k := range w.tree.Roots {
				list = append(list, Moment{k, int32(i)})
			}
			continue
		}
		for k := range w.at(i) {
			list = append(list, Moment{int32(k), int32(i)})
		}
	}
	return list
}

// at are the positions at which a piece of which nothing is proved is looked at.
func (w *Sweep) at(piece int) []motion.Pose {
	if w.Swept[piece].Edge {
		return w.edge
	}
	return w.tried
}

// Split adds the parts of a moment to a list; false where it has none, being one position.
func (w *Sweep) Split(m Moment, list []Moment) ([]Moment, bool) {
	if !w.Swept[m.Piece].Proved {
		return list, false
	}
	for _, k := range w.tree.Split(m.Cell) {
		if k >= 0 {
			list = append(list, Moment{k, m.Piece})
		}
	}
	return list, true
}

// Nearness is how near a piece comes to a block.
type Nearness struct {
	Least float64 // mm: nowhere in the block nearer than this at any position of the moment
	Slack float64 // mm: how much of that is due to the motion within the moment
	Reach float64 // mm: how far the block reaches towards the piece from its centre
	Found float64 // mm: the block's centre from the piece at one position of the range; infinite where none is known
	Takes bool    // at that position the whole block is nearer than the margin
	// Corner of what the limits leave of the moment's patch, to which the bound belongs; -1 where there is none. Own is Found there: what lies between it and the bound is no motion, only what is not known of it.
	Corner int
	Own    float64
}

// Near measures a block against a moment. Distances are between the piece's surface and a place; within the piece they are negative.
func (w *Sweep) Near(m Moment, b *Block) Nearness {
	at := w.moment(m)
	n := Nearness{Found: math.Inf(1), Own: math.Inf(1), Corner: -1}
	if at.within {
		n.Found = w.from(b.At, &at.found)
		n.Takes = w.takes(b, &at.found, n.Found, w.Swept[m.Piece].Margin)
	}
	if !w.Swept[m.Piece].Proved {
		n.Least = n.Found - b.radius() // one position is all there is
		return n
	}
	c := &w.tree.Cells[m.Cell]
	if c.N == 0 {
		n.Least = math.Inf(1)
		return n
	}
	if !at.ok {
		n.Least, n.Slack = math.Inf(-1), math.Inf(1)
		return n
	}
	w.point(m, c, b.At)
	var g Gap
	w.shape.Gap(&w.ball.at, &at.over.at, &g)
	reach := 0.0
	if !w.onAxle[m.Piece] {
		reach = b.reach(g.N)
		n.Least, n.Corner = boundOf(&w.ball, &at.over, c, &g, b)
	} else { // as the axle sees it the block moves: by its corners
		w.room = w.room[:0]
		for i := range 8 {
			corner := cell.Fixed(b.Corner(i))
			w.room = append(w.room, c.Seen(&corner))
			reach = math.Max(reach, r3.Dot(g.N, r3.Sub(w.ball.at.A, w.room[i].X)))
		}
		w.ball.pts = w.room
		n.Least, n.Corner = boundOf(&w.ball, &at.over, c, &g, nil)
	}
	n.Slack, n.Reach = g.Gap-reach-n.Least, reach
	return n
}

// own fills in what is found by the corner a bound belongs to.
func (w *Sweep) own(m Moment, at r3.Vec, n *Nearness) {
	if n.Corner < 0 {
		n.Own = n.Found
		return
	}
	if p := w.byCorner(m, n.Corner); p != nil {
		n.Own = w.from(at, p)
	}
}

// byCorner is a piece placed by a corner of what the limits leave of a cell; nil where that is outside the range.
func (w *Sweep) byCorner(m Moment, i int) *shape.Piece {
	at := w.moment(m)
	if at.corner[i] == nil {
		if s := w.standBy(m.Cell, i); s.ok {
			at.corner[i] = &shape.Piece{}
			w.pieces[m.Piece].placeBy(&s.at.Pose, s.at.At, at.corner[i])
		}
	}
	return at.corner[i]
}

// point makes a still place what a piece is measured against.
func (w *Sweep) point(m Moment, c *cell.Cell, x r3.Vec) {
	fixed := cell.Fixed(x)
	if w.onAxle[m.Piece] {
		fixed = c.Seen(&fixed)
	}
	w.room = append(w.room[:0], fixed)
	w.ball = moving{at: shape.Piece{Kind: shape.Point, A: fixed.X}, pts: w.room}
}

// Corners measures the corners of a block against a moment. least bounds from below how near the piece comes to each at any position of the moment, and so, being values of one concave function, to any place between
// them: nowhere is it nearer than what lies straight between. found is how near it is to each at one position of the range, infinite where none is known: to a place between them it is no
// further than what lies straight between, the piece being convex.
func (w *Sweep) Corners(m Moment, b *Block, least, found *[8]float64) {
	var at [8]r3.Vec
	for i := range at {
		at[i] = b.Corner(i)
	}
	w.LeastAt(m, b.At, at[:], least[:])
	w.FoundAt(m, b.At, at[:], found[:])
}

// LeastAt is least of Corners for any places round a middle. Of a mesh at one position tried it is what is found there, no bound between.
func (w *Sweep) LeastAt(m Moment, middle r3.Vec, places []r3.Vec, least []float64) {
	at := w.moment(m)
	var g Gap
	if !w.Swept[m.Piece].Proved { // what the plane that parts it from the middle gives
		ball := shape.Piece{Kind: shape.Point, A: middle}
		w.shape.Gap(&ball, &at.found, &g)
		for i, x := range places {
			if at.found.Kind == shape.Surface {
				least[i] = w.from(x, &at.found)
				continue
			}
			least[i] = g.Gap + r3.Dot(g.N, r3.Sub(x, middle)) - 1e-9
		}
		return
	}
	c := &w.tree.Cells[m.Cell]
	if c.N == 0 || !at.ok {
		bound := math.Inf(-1)
		if c.N == 0 {
			bound = math.Inf(1)
		}
		for i := range least {
			least[i] = bound
		}
		return
	}
	w.point(m, c, middle)
	w.shape.Gap(&w.ball.at, &at.over.at, &g)
	d, o := direction(&w.ball, &at.over, &g), g.PointA
	for i, x := range places {
		w.point(m, c, x)
		least[i], _ = boundAlong(d, o, &w.ball, &at.over, c, nil)
	}
}

// FoundAt is found of Corners for any places round a middle, at the one position known that is nearest to the middle.
func (w *Sweep) FoundAt(m Moment, middle r3.Vec, places []r3.Vec, found []float64) {
	at := w.moment(m)
	var p *shape.Piece
	best := math.Inf(1)
	if at.within {
		p, best = &at.found, w.from(middle, &at.found)
	}
	if w.Swept[m.Piece].Proved {
		b := Block{At: middle, Axes: [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}}
		if n := w.Near(m, &b); n.Corner >= 0 {
			if q := w.byCorner(m, n.Corner); q != nil && w.from(middle, q) < best {
				p = q
			}
		}
	}
	for i, x := range places {
		found[i] = math.Inf(1)
		if p != nil {
			found[i] = w.from(x, p)
		}
	}
}

// Holds is a box along the body axes that the piece does not leave over the moment, mm; false where that is not known.
func (w *Sweep) Holds(m Moment) (lo, hi r3.Vec, ok bool) {
	at := w.moment(m)
	if !w.Swept[m.Piece].Proved {
		lo, hi = at.found.Bounds()
		return lo, hi, true
	}
	c := &w.tree.Cells[m.Cell]
	p := w.pieces[m.Piece]
	pts, radius := at.over.pts, at.over.radius
	switch {
	case !at.ok:
		return lo, hi, false
	case p.sort == carried:
		var centre r3.Vec
		centre, radius = p.of.Ball()
		pts = []cell.Point{c.Carried(centre)}
	}
	for i := range pts {
		k := &pts[i]
		x, v, u := [3]float64{k.X.X, k.X.Y, k.X.Z}, k.V[0], k.V[1]
		out := [3]float64{math.Abs(v.X) + math.Abs(u.X), math.Abs(v.Y) + math.Abs(u.Y), math.Abs(v.Z) + math.Abs(u.Z)}
		var l, h [3]float64
		for a, n := range [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
			r := out[a] + k.Dev(n, 1) + radius
			l[a], h[a] = x[a]-r, x[a]+r
		}
		if i == 0 {
			lo, hi = r3.Vec{X: l[0], Y: l[1], Z: l[2]}, r3.Vec{X: h[0], Y: h[1], Z: h[2]}
			continue
		}
		lo = r3.Vec{X: math.Min(lo.X, l[0]), Y: math.Min(lo.Y, l[1]), Z: math.Min(lo.Z, l[2])}
		hi = r3.Vec{X: math.Max(hi.X, h[0]), Y: math.Max(hi.Y, h[1]), Z: math.Max(hi.Z, h[2])}
	}
	return lo, hi, true
}

// reach is how far the block reaches from its centre along a direction of any length, times that length.
func (b *Block) reach(n r3.Vec) float64 {
	h := 0.0
	for i, a := range b.Axes {
		h += math.Abs(r3.Dot(n, a)) * b.Half[i]
	}
	return h
}

func (b *Block) radius() float64 {
	return math.Sqrt(b.Half[0]*b.Half[0] + b.Half[1]*b.Half[1] + b.Half[2]*b.Half[2])
}

// Corner is one of the eight.
func (b *Block) Corner(i int) r3.Vec {
	p := b.At
	for k := range b.Axes {
		h := b.Half[k]
		if i>>k&1 == 0 {
			h = -h
		}
		p = r3.Add(p, r3.Scale(h, b.Axes[k]))
	}
	return p
}

// from is the distance of a place from a placed piece's surface.
func (w *Sweep) from(at r3.Vec, p *shape.Piece) float64 {
	var g Gap
	ball := shape.Piece{Kind: shape.Point, A: at}
	w.shape.Gap(&ball, p, &g)
	return g.Gap
}

// takes reports whether every place of a block is nearer to a placed piece than a margin; its centre is at the distance from. The distance from a convex piece is largest at a
// corner; of a mesh, which need not be convex, only the centre tells.
func (w *Sweep) takes(b *Block, p *shape.Piece, from, margin float64) bool {
	switch r := b.radius(); {
	case from >= margin:
		return false
	case from+r < margin:
		return true
	case p.Kind == shape.Surface:
		return false
	}
	for i := range 8 {
		if w.from(b.Corner(i), p) >= margin {
			return false
		}
	}
	return true
}

// moment is a piece over a cell, or at a position tried, worked out once.
func (w *Sweep) moment(m Moment) *inMotion {
	list := w.moves[m.Piece]
	for int(m.Cell) >= len(list) {
		list = append(list, nil)
	}
	w.moves[m.Piece] = list
	if k := list[m.Cell]; k != nil {
		return k
	}
	k := &inMotion{}
	list[m.Cell] = k
	p := w.pieces[m.Piece]
	if !w.Swept[m.Piece].Proved {
		pose := &w.at(int(m.Piece))[m.Cell]
		p.placeBy(pose, func(pl *motion.Place) r3.Vec { return w.c.mech.At(pose, pl) }, &k.found)
		k.within = true
		return k
	}
	k.ok = p.over(w.tree, &w.tree.Cells[m.Cell], w.onAxle[m.Piece], &k.over)
	if s := w.stand(m.Cell); s.ok {
		p.placeBy(&s.at.Pose, s.at.At, &k.found)
		k.within = true
	}
	return k
}

// stand finds a pose within the range in the middle of what the limits leave of a cell.
func (w *Sweep) stand(k int32) *standing {
	s := w.standsOf(k)
	if s.middle == nil {
		s.middle = &standing{}
		if c := &w.tree.Cells[k]; c.N > 0 && c.Proved {
			s.middle.ok = w.tree.Stand(c, middleOf(c), &s.middle.at) && w.inside(&s.middle.at.Pose)
		}
	}
	return s.middle
}

// inwards is how far towards a corner of a cell a pose within the range is looked for, from the middle: what the limits leave of a cell reaches a little beyond them.
var inwards = [4]float64{1, 0.98, 0.9, 0.6}

// standBy finds one by a corner.
func (w *Sweep) standBy(k int32, i int) *standing {
	s := w.standsOf(k)
	if s.corner[i] != nil {
		return s.corner[i]
	}
	at := &standing{}
	s.corner[i] = at
	c := &w.tree.Cells[k]
	if i >= c.N || !c.Proved {
		return at
	}
	mid := middleOf(c)
	for _, t := range inwards {
		u := [2]float64{mid[0] + t*(c.Poly[i][0]-mid[0]), mid[1] + t*(c.Poly[i][1]-mid[1])}
		if at.ok = w.tree.Stand(c, u, &at.at) && w.inside(&at.at.Pose); at.ok {
			break
		}
	}
	return at
}

func (w *Sweep) standsOf(k int32) *stands {
	for int(k) >= len(w.stands) {
		w.stands = append(w.stands, nil)
	}
	if w.stands[k] == nil {
		w.stands[k] = &stands{}
	}
	return w.stands[k]
}

// middleOf is the middle of what the limits leave of a cell.
func middleOf(c *cell.Cell) (u [2]float64) {
	for i := range c.N {
		u[0] += c.Poly[i][0] / float64(c.N)
		u[1] += c.Poly[i][1] / float64(c.N)
	}
	return u
}

// Width is how wide a moment's patch of positions is, mm of wheel travel; 0 for one position.
func (w *Sweep) Width(m Moment) float64 {
	if !w.Swept[m.Piece].Proved {
		return 0
	}
	c := &w.tree.Cells[m.Cell]
	return 2 * math.Max(c.RH, c.RA*w.c.mech.Track/2)
}
