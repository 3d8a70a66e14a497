package vessel

import (
	"cmp"
	"math"
	"slices"

	"axleloft/geometry/clearance"

	"gonum.org/v1/gonum/spatial/r3"
)

// Size is how far a cut goes in from a named face of the vessel, whole mm; From is 0 where it begins at that face.
type Size struct {
	Face     string // front, rear, left, right, top, bottom
	From, To float64
	At       string // where, of a face that slopes from one size to another: "at the left face", "62 in"; "" elsewhere
}

// Cut is a cut with flat faces that takes all of a keep-out, what is undecided of it included.
type Cut struct {
	Kind   string  // one of the kinds below
	Words  string  // where it is and how large, with its sizes in mm
	Sizes  []Size  // in along each way that it does not run through
	Folds  int     // flat faces it leaves
	Litres float64 // lost

	planes []plane // all of it lies within them; body axes
	parts  []part  // the ways it is told by: an edge's or corner's first
}

// The kinds of cut, with the flat faces they leave.
const (
	face   = "face"   // 1: a whole face cut back
	tilt   = "tilt"   // 1: a whole face cut back, more at one end than at the other
	slope  = "slope"  // 1: an edge cut off
	snip   = "snip"   // 1: a corner cut off
	step   = "step"   // 2: along an edge
	taper  = "taper"  // 2: a step one of whose faces slopes
	wedge  = "wedge"  // 2: an edge cut off over part of its length
	slot   = "slot"   // 3: in a face, from side to side
	corner = "corner" // 3: a box out of a corner
	notch  = "notch"  // 4: a step that ends on both sides
	tunnel = "tunnel" // 4: through the tank, in no face of the two ways across
	pocket = "pocket" // 5: a box in a face
)

var foldsOf = map[string]int{face: 1, tilt: 1, slope: 1, snip: 1, step: 2, taper: 2, wedge: 2, slot: 3, corner: 3, notch: 4, tunnel: 4, pocket: 5}

// Of cuts that lose nearly alike the one with fewer faces is better made: within 0.5 L, or 5 % of what is lost, of the one that loses least (chosen: half a litre is not worth a fold and its weld).
const (
	NearLitres = 0.5
	NearShare  = 0.05
)

// near is what a cut may lose and count as losing no more than one that loses litres.
func near(litres float64) float64 { return litres + math.Max(NearLitres, NearShare*litres) }

// atEdge: what is taken that begins no further in than this begins at the face, mm.
const atEdge = 0.5

// Cuts lists the simple cuts that take the keep-out whole, those that lose least first; whole faces cut back are among them. Sizes are rounded up to whole mm. Empty where nothing is to be taken. Empty for a
// vessel whose litres are not known.
func (v *Vessel) Cuts(k *KeepOut) []Cut {
	v.find(k)
	return k.cuts
}

// find works the cuts of a keep-out out, once.
func (v *Vessel) find(k *KeepOut) {
	if k.known {
		return
	}
	k.known, k.cuts = true, v.cuts(k.boxes)
	if groups := apart(k.boxes); len(groups) > 1 && len(groups) <= mostApart {
		for _, g := range groups {
			k.apart = append(k.apart, v.cuts(g))
		}
	}
}

func (v *Vessel) cuts(boxes []box) []Cut {
	if v.Why != "" || len(boxes) == 0 {
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
	f.search()
	slices.SortStableFunc(f.found, func(a, b Cut) int { return cmp.Or(cmp.Compare(a.Litres, b.Litres), cmp.Compare(a.Folds, b.Folds)) })
	return f.found
}

// mostApart is how many separate places are cut each for itself; where there are more, one cut takes them all.
const mostApart = 3

// Apart lists the cuts for each separate place of the keep-out; nil where there is one place only, or too many.
func (v *Vessel) Apart(k *KeepOut) [][]Cut {
	v.find(k)
	return k.apart
}

// Plan is what is best cut: the best simple cut or, where separate places are taken and that loses less by more than near alike, the best one for each. Empty where nothing is to be taken.
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
	if len(each) > 0 && (len(plan) == 0 || v.Lost(plan) > near(v.Lost(each))) {
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
		sum += sign * v.within(all...)
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

// Whole reports whether a cut takes a face back from end to end, so that it is no notch.
func (c *Cut) Whole() bool { return c.Kind == face || c.Kind == tilt }

// Best is the best of the simple cuts, whole faces cut back aside: of those that lose nearly as little as the one that loses least, one with the fewest faces; of these the one that loses least. -1 where there is
// none. The list begins with what loses least.
func Best(list []Cut) int {
	best, most := -1, 0.0
	for i := range list {
		c := &list[i]
		switch {
		case c.Whole():
		case best < 0:
			best, most = i, near(c.Litres)
		case c.Litres <= most && c.Folds < list[best].Folds:
			best = i
		}
	}
	return best
}

// Lies reports whether a place lies within the cut's planes.
func (c *Cut) Lies(x r3.Vec) bool {
	for _, p := range c.planes {
		if r3.Dot(p.n, x) > p.at+onPlane {
			return false
		}
	}
	return true
}

// outer is the box of the vessel's outermost faces.
func (v *Vessel) outer() poly {
	b := v.block(v.lo, v.hi)
	return blockPoly(&b)
}

func blockPoly(b *clearance.Block) poly {
	var q poly
	turned := r3.Dot(r3.Cross(b.Axes[0], b.Axes[1]), b.Axes[2]) < 0
	for _, f := range blockFaces {
		var loop []r3.Vec
		for _, i := range f {
			loop = append(loop, b.Corner(i))
		}
		if turned {
			slices.Reverse(loop)
		}
		q.faces = append(q.faces, loop)
	}
	return q
}

// blockFaces are the faces of a block by its corners, anticlockwise seen from outside where its axes are right-handed.
var blockFaces = [6][4]int{{0, 4, 6, 2}, {1, 3, 7, 5}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 2, 3, 1}, {4, 5, 7, 6}}
