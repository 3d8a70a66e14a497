package pad

import (
	"math"
	"sort"
)

// grid is values of one reading over a box of positions: v[i*n+k] belongs to left = l0 + i*dl, right = r0 + k*dr. NaN: not known there.
type grid struct {
	n              int
	l0, r0, dl, dr float64
	v              []float64
}

// place is the position of a node.
func (g *grid) place(i, k int) place { return place{g.l0 + float64(i)*g.dl, g.r0 + float64(k)*g.dr} }

// at interpolates between the four nodes about a position; ok is false outside the box and where a node is not known.
func (g *grid) at(left, right float64) (v float64, ok bool) {
	x, y := (left-g.l0)/g.dl, (right-g.r0)/g.dr
	i, k := int(math.Floor(x)), int(math.Floor(y))
	if i < 0 || k < 0 || i > g.n-1 || k > g.n-1 || math.IsNaN(x+y) {
		return 0, false
	}
	i, k = min(i, g.n-2), min(k, g.n-2)
	s, t := x-float64(i), y-float64(k)
	a, b, c, d := g.v[i*g.n+k], g.v[(i+1)*g.n+k], g.v[(i+1)*g.n+k+1], g.v[i*g.n+k+1]
	v = a*(1-s)*(1-t) + b*s*(1-t) + c*s*t + d*(1-s)*t
	return v, !math.IsNaN(v)
}

// spread carries the values two nodes out over the edge of what is known, straight on along rows, columns and diagonals, so that lines reach the
// outline, which runs between nodes.
func (g *grid) spread() {
	n := g.n
	get := func(v []float64, i, k int) float64 {
		if i < 0 || k < 0 || i >= n || k >= n {
			return math.NaN()
		}
		return v[i*n+k]
	}
	for range 2 {
		was := append([]float64(nil), g.v...)
		for i := range n {
			for k := range n {
				if !math.IsNaN(was[i*n+k]) {
					continue
				}
				sum, count := 0.0, 0.0
				for _, d := range [8][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
					a, b := get(was, i+d[0], k+d[1]), get(was, i+2*d[0], k+2*d[1])
					if math.IsNaN(a) || math.IsNaN(b) {
						continue
					}
					sum, count = sum+2*a-b, count+1
				}
				if count > 0 {
					g.v[i*n+k] = sum / count
				}
			}
		}
	}
}

// extent is the least and the largest value.
func (g *grid) extent() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, v := range g.v {
		if !math.IsNaN(v) {
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
	}
	return lo, hi
}

// mostLines is into how many steps the extent of a reading is cut at most.
const mostLines = 10

// levels are round values between two others, 1, 2 or 5 of a decade apart and at least a step of least, no more than mostLines of them.
func levels(lo, hi, least float64) (at []float64, step float64) {
	if !(hi > lo) || math.IsInf(hi-lo, 0) {
		return nil, 0
	}
	step = math.Max(least, math.Pow(10, math.Floor(math.Log10((hi-lo)/mostLines))))
	for _, f := range [...]float64{2, 2.5, 2} {
		if (hi-lo)/step <= mostLines {
			break
		}
		step *= f
	}
	for i := math.Ceil(lo/step - 1e-9); i*step <= hi+1e-9*step; i++ {
		at = append(at, i*step+0)
	}
	return at, step
}

// line is where a reading has one value: a chain of positions.
type line struct {
	value float64
	path  []place
}

// crossing is an edge between two nodes: horizontal or not, and its lower node.
type crossing struct {
	across bool
	i, k   int
}

// contour finds where the values are level: chains of positions, each joined from its pieces of one cell.
func (g *grid) contour(level float64) [][]place {
	n := g.n
	points := map[crossing]place{}
	next := map[crossing][]crossing{}
	var order []crossing
	cut := func(i, k int, across bool) (crossing, bool) {
		a, j, l := g.v[i*n+k], i+1, k
		if !across {
			j, l = i, k+1
		}
		b := g.v[j*n+l]
		if (a < level) == (b < level) {
			return crossing{}, false
		}
		c := crossing{across, i, k}
		if _, known := points[c]; !known {
			t := (level - a) / (b - a)
			p, q := g.place(i, k), g.place(j, l)
			points[c] = place{p.left + t*(q.left-p.left), p.right + t*(q.right-p.right)}
			order = append(order, c)
		}
		return c, true
	}
	join := func(a, b crossing) { next[a], next[b] = append(next[a], b), append(next[b], a) }
	for i := range n - 1 {
		for k := range n - 1 {
			mean := (g.v[i*n+k] + g.v[(i+1)*n+k] + g.v[(i+1)*n+k+1] + g.v[i*n+k+1]) / 4
			if math.IsNaN(mean) {
				continue
			}
			var cuts []crossing // round the cell: below, right, above, left
			for _, e := range [4]struct {
				i, k   int
				across bool
			}{{i, k, true}, {i + 1, k, false}, {i, k + 1, true}, {i, k, false}} {
				if c, ok := cut(e.i, e.k, e.across); ok {
					cuts = append(cuts, c)
				}
			}
			switch len(cuts) {
			case 2:
				join(cuts[0], cuts[1])
			case 4: // a saddle: its middle says which corners belong together
				if (g.v[i*n+k] < level) == (mean < level) {
					join(cuts[0], cuts[1])
					join(cuts[2], cuts[3])
				} else {
					join(cuts[3], cuts[0])
					join(cuts[1], cuts[2])
				}
			}
		}
	}
	var out [][]place
	used := map[crossing]bool{}
	walk := func(from crossing) {
		var path []place
		for at, ok := from, true; ok; {
			used[at] = true
			path = append(path, points[at])
			ok = false
			for _, c := range next[at] {
				if !used[c] {
					at, ok = c, true
					break
				}
			}
		}
		for _, c := range next[from] { // back where it began
			if len(path) > 2 && points[c] == path[len(path)-1] {
				path = append(path, path[0])
				break
			}
		}
		if len(path) > 1 {
			out = append(out, path)
		}
	}
	for _, c := range order { // ends first, then what closes on itself
		if !used[c] && len(next[c]) == 1 {
			walk(c)
		}
	}
	for _, c := range order {
		if !used[c] {
			walk(c)
		}
	}
	return out
}

// within cuts a chain to the inside of the outline.
func within(edge []place, path []place) [][]place {
	in := func(p place) bool {
		_, _, t, _, ok := locate(edge, p.left, p.right)
		return ok && t <= 1
	}
	border := func(a, b place) place { // a inside, b outside
		for range 20 {
			m := place{(a.left + b.left) / 2, (a.right + b.right) / 2}
			if in(m) {
				a = m
			} else {
				b = m
			}
		}
		return a
	}
	var out [][]place
	var run []place
	for i, p := range path {
		was := i > 0 && in(path[i-1])
		switch is := in(p); {
		case is && i > 0 && !was:
			run = append(run, border(p, path[i-1]), p)
		case is:
			run = append(run, p)
		case was:
			out = append(out, append(run, border(path[i-1], p)))
			run = nil
		}
	}
	if len(run) > 1 {
		out = append(out, run)
	}
	return out
}

// lines are the lines of a reading inside the outline, the longest first.
func (g *grid) lines(edge []place, at []float64) []line {
	var out []line
	for _, v := range at {
		for _, path := range g.contour(v) {
			for _, run := range within(edge, path) {
				if len(run) > 1 {
					out = append(out, line{v, run})
				}
			}
		}
	}
	sort.SliceStable(out, func(i, k int) bool { return out[i].length() > out[k].length() })
	return out
}

func (l *line) length() float64 {
	sum := 0.0
	for i := 1; i < len(l.path); i++ {
		sum += math.Hypot(l.path[i].left-l.path[i-1].left, l.path[i].right-l.path[i-1].right)
	}
	return sum
}

// along is the position a part of the way along the line.
func (l *line) along(part float64) place {
	far := part * l.length()
	for i := 1; i < len(l.path); i++ {
		a, b := l.path[i-1], l.path[i]
		d := math.Hypot(b.left-a.left, b.right-a.right)
		if far <= d && d > 0 {
			t := far / d
			return place{a.left + t*(b.left-a.left), a.right + t*(b.right-a.right)}
		}
		far -= d
	}
	return l.path[len(l.path)-1]
}
