package study

import (
	"context"
	"math"
	"slices"

	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Lowest is how high above the ground everything is that is carried or drawn, the tyres apart, at each height and load and over the range. The ground is the
// one in force, one loaded radius of the load below the axle centre; crossed up it stays so, level across.
type Lowest struct {
	Heights, Loads []string // as in HeightTable
	Travel         [][]float64
	Notes          [][]string
	Parts          []LowPart // lowest first
	Departure      [][]Slope // behind this axle's wheels; told only where the rear overhang is given
	Ramp           [][]Slope // between the axles, of what is drawn and the middle where it is given
	Approach       [][]Slope // before the front wheels; told only where the front overhang is given
}

// Angle is one of the three slopes at each height and load.
type Angle struct {
	Name, Title string // in files, on screen
	Of          [][]Slope
}

// Told reports whether there is such a slope anywhere.
func (a *Angle) Told() bool {
	for _, row := range a.Of {
		for i := range row {
			if !math.IsNaN(row[i].Deg) {
				return true
			}
		}
	}
	return false
}

// Angles are departure, ramp and approach.
func (t *Lowest) Angles() []Angle {
	return []Angle{{"departure_deg", words.T("Departure angle"), t.Departure}, {"ramp_deg", words.T("Ramp angle"), t.Ramp}, {"approach_deg", words.T("Approach angle"), t.Approach}}
}

// LowPart is one part, or an overhang's place.
type LowPart struct {
	Name  string
	Cells [][]Low // [height][load]
	Least []Low   // by load, over the range: found at the positions tried; no height where there is no range
}

// Low is a lowest point.
type Low struct {
	Height      float64 // above the ground, mm; NaN where there is none
	At, Foot    r3.Vec  // body axes; Foot is the ground square below
	Left, Right float64
}

// Slope is an angle between the ground and what touches it last, deg; NaN where there is none.
type Slope struct {
	Deg float64
	Of  string
	At  r3.Vec
}

// The names of an overhang's places.
const (
	rearName   = "Rear overhang"
	middleName = "Lowest between the axles, as given"
	frontName  = "Front overhang"
)

// overhangPlace is a point of the frame that an overhang gives.
type overhangPlace struct {
	name string
	at   r3.Vec
}

// overhangs are the places the vehicle's overhangs give, in body axes; ok says which of rear, middle, front there are.
func (s *Study) overhangs() (places [3]overhangPlace, ok [3]bool) {
	o := s.Job.Vehicle.Overhang
	if o == nil {
		return places, ok
	}
	set := func(i int, name string, from, way float64, at, height *float64) {
		if ok[i] = at != nil && height != nil; ok[i] {
			places[i] = overhangPlace{name, r3.Vec{X: from + way**at, Z: *height}}
		}
	}
	set(0, words.T(rearName), 0, -1, o.Rear, o.RearHeight)
	set(1, words.T(middleName), 0, 1, o.Middle, o.MiddleHeight)
	set(2, words.T(frontName), s.Mech.Wheelbase, 1, o.Front, o.FrontHeight)
	return places, ok
}

// lowGrid is how many positions along each side of the box round the range lowest points are looked for at.
const lowGrid = 41

// lows looks at lowest points; it belongs to one goroutine.
type lows struct {
	s      *Study
	solver *motion.Solver
	sc     *clearance.Scratch
	uses   []quantity.LinkUse
	places []overhangPlace
	names  []string
	parts  []int // of Gaps.Parts
}

func (s *Study) newLows() *lows {
	k := &lows{s: s, solver: s.Mech.NewSolver(), uses: make([]quantity.LinkUse, len(s.Mech.Links))}
	if s.Gaps != nil {
		k.sc = s.Gaps.NewScratch()
		for i := range s.Gaps.Parts {
			if s.Gaps.Parts[i].Stands() {
				k.parts, k.names = append(k.parts, i), append(k.names, s.Gaps.Parts[i].Name)
			}
		}
	}
	places, ok := s.overhangs()
	for i := range places {
		if ok[i] {
			k.places, k.names = append(k.places, places[i]), append(k.names, places[i].name)
		}
	}
	return k
}

// place moves everything to the pose.
func (k *lows) place(p *motion.Pose) {
	if k.sc != nil {
		quantity.Links(k.s.Mech, p, k.uses)
		k.sc.Place(p, k.uses)
	}
}

// look takes the lowest points of all parts for a load into dst where they are lower.
func (k *lows) look(p *motion.Pose, load int, dst []Low) {
	g := quantity.GroundOf(k.s.Mech, p, &k.s.Loads[load])
	take := func(i int, h float64, at r3.Vec) {
		if !(h >= dst[i].Height) {
			dst[i] = Low{h, at, r3.Sub(at, r3.Scale(h, g.Ez)), p.Left, p.Right}
		}
	}
	for i, part := range k.parts {
		h, at := k.sc.Lowest(part, &g)
		take(i, h, at)
	}
	for i := range k.places {
		at := k.places[i].at
		take(len(k.parts)+i, g.Height(at), at)
	}
}

// none are lowest points that have seen nothing.
func (k *lows) none() []Low {
	out := make([]Low, len(k.names))
	for i := range out {
		out[i].Height = math.NaN()
	}
	return out
}

// Lowest works the lowest points out. A cancelled context, or a study without a mechanism, gives nil.
func (s *Study) Lowest(ctx context.Context) *Lowest {
	if s.Mech == nil {
		return nil
	}
	k := s.newLows()
	t := &Lowest{Parts: make([]LowPart, len(k.names))}
	for i := range s.Loads {
		t.Loads = append(t.Loads, s.Loads[i].Name)
	}
	for i := range t.Parts {
		t.Parts[i].Name = k.names[i]
	}
	for _, spot := range s.heightSpots() {
		t.Heights = append(t.Heights, spot.name)
		n := len(s.Loads)
		travel, notes := make([]float64, n), make([]string, n)
		var angles [3][]Slope
		cells := make([][]Low, n)
		for l := range s.Loads {
			travel[l] = spot.travel + s.Loads[l].Heave
			cells[l] = k.none()
			var p motion.Pose
			var a [3]Slope
			if err := k.solver.Solve(travel[l], travel[l], &p); err != nil {
				notes[l] = sentence(err)
				for i := range a {
					a[i].Deg = math.NaN()
				}
			} else {
				k.place(&p)
				k.look(&p, l, cells[l])
				a = k.slopes(&p, l)
			}
			for i := range a {
				angles[i] = append(angles[i], a[i])
			}
		}
		t.Travel, t.Notes = append(t.Travel, travel), append(t.Notes, notes)
		t.Departure, t.Ramp, t.Approach = append(t.Departure, angles[0]), append(t.Ramp, angles[1]), append(t.Approach, angles[2])
		for i := range t.Parts {
			row := make([]Low, n)
			for l := range row {
				row[l] = cells[l][i]
			}
			t.Parts[i].Cells = append(t.Parts[i].Cells, row)
		}
	}
	least := s.lowestOver(ctx)
	if ctx.Err() != nil {
		return nil
	}
	for i := range t.Parts {
		for l := range s.Loads {
			t.Parts[i].Least = append(t.Parts[i].Least, least[l][i])
		}
	}
	slices.SortStableFunc(t.Parts, func(a, b LowPart) int {
		switch x, y := a.lowest(), b.lowest(); {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	return t
}

// lowest is the least of a part's heights.
func (p *LowPart) lowest() float64 {
	least := math.Inf(1)
	take := func(v float64) {
		if v < least {
			least = v
		}
	}
	for _, row := range p.Cells {
		for i := range row {
			take(row[i].Height)
		}
	}
	for i := range p.Least {
		take(p.Least[i].Height)
	}
	return least
}

// lowestOver looks over the range: ride height, a grid, the outline and its corners. [load][part].
func (s *Study) lowestOver(ctx context.Context) [][]Low {
	first := s.newLows()
	nothing := func() [][]Low {
		out := make([][]Low, len(s.Loads))
		for l := range out {
			out[l] = first.none()
		}
		return out
	}
	all := nothing()
	if !s.Bounded() {
		return all
	}
	lo, hi := s.Range.Box()
	lefts, rights := steps(lo.Left, hi.Left, lowGrid), steps(lo.Right, hi.Right, lowGrid)
	rows := make([][][]Low, lowGrid+1)
	limits.Spread(s.cores(), len(rows), func() func(int) {
		k := s.newLows()
		return func(i int) {
			out := nothing()
			rows[i] = out
			look := func(p *motion.Pose) {
				k.place(p)
				for l := range out {
					k.look(p, l, out[l])
				}
			}
			if ctx.Err() != nil {
				return
			}
			if i < lowGrid {
				s.Range.Row(k.solver, lefts[i], rights, func(_ int, in bool, p *motion.Pose) {
					if in {
						look(p)
					}
				})
				return
			}
			ride := s.Mech.Ride()
			look(&ride)
			var p motion.Pose
			at := func(left, right float64) {
				if k.solver.Solve(left, right, &p) == nil && s.Range.Within(&p) {
					look(&p)
				}
			}
			for n := range s.Range.Edge {
				at(s.Range.Edge[n].Left, s.Range.Edge[n].Right)
			}
			for _, c := range s.corners() {
				at(c[0], c[1])
			}
		}
	})
	for _, row := range rows {
		for l := range all {
			for i := range all[l] {
				if v := row[l][i]; !math.IsNaN(v.Height) && !(v.Height >= all[l][i].Height) {
					all[l][i] = v
				}
			}
		}
	}
	return all
}

// slopes are departure, ramp and approach of a load at the pose as placed.
func (k *lows) slopes(p *motion.Pose, load int) [3]Slope {
	v := &clearance.Side{Ground: quantity.GroundOf(k.s.Mech, p, &k.s.Loads[load]), Radius: k.s.Loads[load].Radius}
	places, ok := k.s.overhangs()
	of := func(find func(*clearance.Side) clearance.Touch) Slope {
		if k.sc == nil {
			return Slope{Deg: math.NaN()}
		}
		t := find(v)
		if t.Part < 0 {
			return Slope{Deg: math.NaN()}
		}
		return Slope{deg(t.Angle), k.s.Gaps.Parts[t.Part].Name, t.At}
	}
	out := [3]Slope{{Deg: math.NaN()}, {Deg: math.NaN()}, {Deg: math.NaN()}}
	if ok[0] && k.sc != nil {
		out[0] = of(k.sc.Departure)
	}
	if k.sc != nil {
		out[1] = of(k.sc.Ramp)
	}
	for i, angle := range [3]func(r3.Vec) float64{v.Departure, v.Ramp, v.Approach} {
		if !ok[i] {
			continue
		}
		if a := deg(angle(places[i].at)); !math.IsNaN(a) && !(a >= out[i].Deg) {
			out[i] = Slope{a, places[i].name, places[i].at}
		}
	}
	return out
}

// GroundWords says which ground heights are told from.
func (s *Study) GroundWords() string {
	text := words.T("The ground lies one loaded tyre radius below the axle's centre, level across")
	if s.Mech != nil && s.Mech.FrontStill {
		text += words.T("; fore and aft it runs from under the front wheels, which stay where they are")
	}
	if s.Bounded() {
		text += words.T(". Over the whole range: found at the positions tried")
	}
	return text + "."
}

// keyLowest is the row of the lowest point in the table of heights.
const keyLowest = "lowest"

// lowestRow is the lowest point of all at each height and load, for the table of heights; ok is false where nothing is drawn.
func (s *Study) lowestRow(at [][]*Position) (row HeightRow, ok bool) {
	k := s.newLows()
	row.Reading = Reading{Key: keyLowest, Title: words.T("Lowest point above ground"), Unit: "mm", PerLoad: true, BandLo: math.NaN(), BandHi: math.NaN()}
	for h := range at {
		cells := make([]HeightCell, len(s.Loads))
		for l, p := range at[h] {
			cells[l].Value = math.NaN()
			if p.Err != "" {
				continue
			}
			k.place(&p.Pose)
			low := k.none()
			k.look(&p.Pose, l, low)
			for i := range low {
				if !(low[i].Height >= cells[l].Value) {
					cells[l] = HeightCell{Value: low[i].Height, At: k.names[i]}
					ok = true
				}
			}
		}
		row.Cells = append(row.Cells, cells)
	}
	return row, ok
}
