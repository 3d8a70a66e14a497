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

	c      *Model
	tree   *cell.Tree // nil: only the positions tried
	inside func(*motion.Pose) bool
	tried  []motion.Pose
	pieces []*piece
	onAxle []bool
	stands []*standing   // per cell
	moves  [][]*inMotion // per piece, per cell
	shape  shape.Scratch
	ball   moving
	room   []cell.Point
}

// standing is the pose of a cell that stands for it; ok where it lies within the range.
type standing struct {
	at cell.Standing
	ok bool
}

// inMotion is a piece over a cell.
type inMotion struct {
	over   moving
	ok     bool        // its motion is bounded
	found  shape.Piece // in body axes, at the cell's own pose
	within bool        // that is in the range
}

// NewSweep lists what is tested against a part of the frame: the movers less what lies within their own brackets, each with the gap wanted of the pair. tree and inside as for a Prover; tried
// are positions of the range for what cannot be bounded, and for all where tree is nil.
func (c *Model) NewSweep(part int, tree *cell.Tree, inside func(*motion.Pose) bool, tried []motion.Pose) *Sweep {
	w := &Sweep{c: c, tree: tree, inside: inside, tried: tried}
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
func (c *Model) NewPartSweep(part int, margin float64, tree *cell.Tree, inside func(*motion.Pose) bool, tried []motion.Pose) *Sweep {
	w := &Sweep{c: c, tree: tree, inside: inside, tried: tried}
	w.add(part, c.pieces()[part], margin)
	return w
}

func (w *Sweep) add(mover int, pieces []piece, margin float64) {
	for k := range pieces {
		p := &pieces[k]
		w.Swept = append(w.Swept, Swept{Part: mover, Margin: margin, Proved: w.tree != nil && p.bounded(w.c.mech)})
		w.pieces = append(w.pieces, p)
		w.onAxle = append(w.onAxle, p.sort == carried)
		w.moves = append(w.moves, nil)
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
		for k := range w.tried {
			list = append(list, Moment{int32(k), int32(i)})
		}
	}
	return list
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

// Near measures a block against a moment: at no position of it is the piece nearer to any place of the block than least, mm, and at one position of the range every place of the block is within most of it, infinite
// where no such position is known. Distances are between the piece's surface and the place; within the piece they are negative.
func (w *Sweep) Near(m Moment, b *Block) (least, most float64) {
	at := w.moment(m)
	most = math.Inf(1)
	if at.within {
		most = w.furthest(b, &at.found)
	}
	if !w.Swept[m.Piece].Proved {
		// One position is all there is: from the centre's distance, which no place of the block is further off than half the block's width along any direction.
		return w.from(b.At, &at.found) - b.radius(), most
	}
	c := &w.tree.Cells[m.Cell]
	if c.N == 0 {
		return math.Inf(1), most
	}
	if !at.ok {
		return math.Inf(-1), most
	}
	fixed := cell.Fixed(b.At)
	swell := block{half: *b}
	if w.onAxle[m.Piece] {
		fixed = c.Seen(&fixed)
		swell = block{ball: b.radius()}
	}
	w.room = append(w.room[:0], fixed)
	w.ball = moving{at: shape.Piece{Kind: shape.Point, A: fixed.X}, pts: w.room}
	var g Gap
	w.shape.Gap(&w.ball.at, &at.over.at, &g)
	least, _ = boundOf(&w.ball, &at.over, c, &g, &swell)
	return least, most
}

// block is how far a box reaches along a direction of any length.
type block struct {
	half Block
	ball float64
}

func (k *block) reach(n r3.Vec) float64 {
	if k.ball > 0 {
		return k.ball * length(n)
	}
	h := 0.0
	for i, a := range k.half.Axes {
		h += math.Abs(r3.Dot(n, a)) * k.half.Half[i]
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

// furthest is the distance of the furthest place of a block from a placed piece: the distance from a convex piece has no largest value but at a corner.
func (w *Sweep) furthest(b *Block, p *shape.Piece) float64 {
	if b.Half == [3]float64{} {
		return w.from(b.At, p)
	}
	far := math.Inf(-1)
	for i := range 8 {
		far = math.Max(far, w.from(b.Corner(i), p))
	}
	return far
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
		pose := &w.tried[m.Cell]
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
	for int(k) >= len(w.stands) {
		w.stands = append(w.stands, nil)
	}
	if w.stands[k] != nil {
		return w.stands[k]
	}
	s := &standing{}
	w.stands[k] = s
	c := &w.tree.Cells[k]
	if c.N == 0 || !c.Proved {
		return s
	}
	var u [2]float64
	for i := range c.N {
		u[0] += c.Poly[i][0] / float64(c.N)
		u[1] += c.Poly[i][1] / float64(c.N)
	}
	s.ok = w.tree.Stand(c, u, &s.at) && w.inside(&s.at.Pose)
	return s
}
