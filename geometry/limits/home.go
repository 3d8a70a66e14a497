package limits

import (
	"math"

	"axleloft/geometry/motion"
)

// HomeCase says which side has gone down.
type HomeCase uint8

// The cases in which a vehicle has to get home.
const (
	LeftDown HomeCase = iota
	RightDown
	BothDown
)

var homeWords = [...]string{"left strut down", "right strut down", "both struts down"}

// String is the case in words.
func (c HomeCase) String() string { return homeWords[c] }

// Home is where the axle stands with a strut down on its stop, or without a stop fully closed, and the strut of the other side at its ride length
// or down as well.
type Home struct {
	Case        HomeCase
	Left, Right float64
	On          []By   // what carries a side that is down, left first: a stop or a closed strut
	AtRide      string // the strut that has its ride length; "" where both are down
	Note        string // why there is no such position, a plain sentence; "" where there is
}

// sideTol is how far off the centre plane a part must stand to belong to a side, mm.
const sideTol = 1.0

// carriers are the limits that carry a side which has gone down: its stops and its struts' closed lengths; side +1 left, -1 right, 0 the centre plane.
func (r *Range) carriers(side float64) []limit {
	var list []limit
	for _, k := range r.list {
		y := 0.0
		switch k.cause {
		case StopSolid:
			y = r.m.Stops[k.index].Axle.Y
		case StrutClosed:
			y = r.m.Struts[k.index].Axle.Y
		default:
			continue
		}
		if sideOf(y) == side {
			list = append(list, k)
		}
	}
	return list
}

func sideOf(y float64) float64 {
	switch {
	case y > sideTol:
		return 1
	case y < -sideTol:
		return -1
	}
	return 0
}

// GetHome finds the get-home positions: the left strut down, the right one, both; none where the job has no strut. Struts on the centre plane give
// only the last. Where several struts stand on a side the first keeps its ride length.
func (r *Range) GetHome() []Home {
	m := r.m
	strut := map[float64]int{}
	for i := range m.Struts {
		side := sideOf(m.Struts[i].Axle.Y)
		if _, ok := strut[side]; !ok {
			strut[side] = i
		}
	}
	if len(strut) == 0 || !r.Bounded {
		return nil
	}
	s := m.NewSolver()
	left, okLeft := strut[1]
	right, okRight := strut[-1]
	if !okLeft || !okRight {
		return []Home{r.centreDown(s)}
	}
	down := func(list []limit) func(*motion.Pose) (float64, int) {
		return func(p *motion.Pose) (float64, int) {
			best, at := math.Inf(1), -1
			for i := range list {
				if v := list[i].margin(m, p); v < best {
					best, at = v, i
				}
			}
			return best, at
		}
	}
	keeps := func(i int) func(*motion.Pose) (float64, int) {
		return func(p *motion.Pose) (float64, int) { return m.StrutLength(p, i) - m.Struts[i].Length, -1 }
	}
	onLeft, onRight := r.carriers(1), r.carriers(-1)
	find := func(c HomeCase, f, g func(*motion.Pose) (float64, int), lf, lg []limit) Home {
		h := Home{Case: c}
		if (c != RightDown && len(onLeft) == 0) || (c != LeftDown && len(onRight) == 0) {
			h.Note = "Nothing says how far a strut can go down: give the struts a closed length, or a bump stop."
			return h
		}
		p, ok := r.meet(s, m.Ride(), f, g)
		if !ok {
			h.Note = "The links do not let the axle stand with the " + c.String() + "."
			return h
		}
		h.Left, h.Right = p.Left, p.Right
		for n, of := range []func(*motion.Pose) (float64, int){f, g} {
			if _, i := of(p); i >= 0 {
				k := [2][]limit{lf, lg}[n][i]
				h.On = append(h.On, By{Cause: k.cause, Index: k.index, What: k.what(m), Left: p.Left, Right: p.Right})
			}
		}
		return h
	}
	one := find(LeftDown, down(onLeft), keeps(right), onLeft, nil)
	two := find(RightDown, keeps(left), down(onRight), nil, onRight)
	one.AtRide, two.AtRide = m.Struts[right].Name, m.Struts[left].Name
	return []Home{one, two, find(BothDown, down(onLeft), down(onRight), onLeft, onRight)}
}

// centreDown is both down where the struts stand on the centre plane: along equal travels to the first carrier of any side.
func (r *Range) centreDown(s *motion.Solver) Home {
	h := Home{Case: BothDown}
	var list []limit
	for _, side := range [3]float64{0, 1, -1} {
		list = append(list, r.carriers(side)...)
	}
	if len(list) == 0 {
		h.Note = "Nothing says how far a strut can go down: give the struts a closed length, or a bump stop."
		return h
	}
	only := &Range{Bounded: true, m: r.m, list: list}
	d := math.Sqrt2 / 2
	b := only.along(s, r.m.Ride(), 0, marchStep, d, d, math.Inf(1))
	if b.Cause == NoAssembly {
		h.Note = "The links do not let the axle stand with the " + h.Case.String() + "."
		return h
	}
	h.Left, h.Right, h.On = b.Left, b.Right, []By{b}
	return h
}

const (
	homeRounds = 60
	homeDiff   = 1e-3 // mm, of a forward difference
	homeMost   = 40.0 // mm of either wheel in one round
	homeTries  = 60   // steps of a march
)

// meet finds the position at which two margins are zero, by Newton with forward differences from a position at, cut where it does not help.
func (r *Range) meet(s *motion.Solver, at motion.Pose, f, g func(*motion.Pose) (float64, int)) (*motion.Pose, bool) {
	var p motion.Pose
	size := func(p *motion.Pose) (a, b float64) {
		a, _ = f(p)
		b, _ = g(p)
		return a, b
	}
	a, b := size(&at)
	for range homeRounds {
		if math.Abs(a) <= edgeTol && math.Abs(b) <= edgeTol {
			return &at, true
		}
		var j [2][2]float64
		for k, d := range [2][2]float64{{homeDiff, 0}, {0, homeDiff}} {
			if !s.Near(&at, at.Left+d[0], at.Right+d[1], homeTries, &p) && !s.Near(&at, at.Left-d[0], at.Right-d[1], homeTries, &p) {
				return nil, false
			}
			step := p.Left - at.Left + p.Right - at.Right
			da, db := size(&p)
			j[0][k], j[1][k] = (da-a)/step, (db-b)/step
		}
		det := j[0][0]*j[1][1] - j[0][1]*j[1][0]
		if math.Abs(det) < 1e-12 {
			return nil, false
		}
		dl := (j[0][1]*b - j[1][1]*a) / det
		dr := (j[1][0]*a - j[0][0]*b) / det
		if big := math.Max(math.Abs(dl), math.Abs(dr)); big > homeMost {
			dl, dr = dl*homeMost/big, dr*homeMost/big
		}
		better := false
		for cut := 1.0; cut > 1e-6; cut /= 2 {
			if !s.Near(&at, at.Left+cut*dl, at.Right+cut*dr, homeTries, &p) {
				continue
			}
			na, nb := size(&p)
			if math.Hypot(na, nb) < math.Hypot(a, b) {
				at, a, b, better = p, na, nb, true
				break
			}
		}
		if !better {
			return nil, false
		}
	}
	return nil, false
}
