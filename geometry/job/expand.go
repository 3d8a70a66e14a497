package job

import "strings"

// Side says which twin an expanded part is.
type Side int8

// The sides.
const (
	Single Side = iota
	Left
	Right
)

// Ref says which entry of the file an expanded part comes from.
type Ref struct {
	Index int
	Side  Side
}

// Expanded is a job with every pair replaced by its two twins ("Lower left", "Lower right"; the right one mirrored in Y:
// points, directions, box turns, outlines and from/to alike), and for each expanded part where it comes from. Twins follow each other, left first.
type Expanded struct {
	Job       *Job // deep copy, no pair anywhere, no trials
	Links     []Ref
	Arms      []Ref
	Rockers   []Ref
	Struts    []Ref
	Stops     []Ref
	Straps    []Ref
	Lines     []Ref
	Sensors   []Ref
	Envelopes []Ref
}

// The words a twin's name ends in.
const (
	leftWord  = " left"
	rightWord = " right"
)

// Expand expands the pairs of j (trials dropped). Envelope Carries lists are kept as written: they may name a pair or one twin; see Carried.
// An On that names a pair, or one twin of it, comes to name the twin on the expanded part's own side.
func Expand(j *Job) *Expanded {
	flat := *j
	flat.Trials = nil
	c := flat.Clone()
	x := &Expanded{Job: c}
	c.Links, x.Links = twins(c.Links, (*Link).part)
	c.Arms, x.Arms = twins(c.Arms, (*Arm).part)
	for i := range c.Rockers {
		x.Rockers = append(x.Rockers, Ref{Index: i})
	}
	pairs := map[string]bool{}
	for k, r := range x.Links {
		if r.Side == Left {
			pairs[trimSide(c.Links[k].Name)] = true
		}
	}
	for k, r := range x.Arms {
		if r.Side == Left {
			pairs[trimSide(c.Arms[k].Name)] = true
		}
	}
	c.Struts, x.Struts = twins(c.Struts, (*Strut).part)
	for i, r := range x.Struts {
		c.Struts[i].On = ownSide(c.Struts[i].On, r.Side, pairs)
	}
	c.Stops, x.Stops = twins(c.Stops, (*Stop).part)
	c.Straps, x.Straps = twins(c.Straps, (*Strap).part)
	c.Lines, x.Lines = twins(c.Lines, (*Line).part)
	c.Sensors, x.Sensors = twins(c.Sensors, (*Sensor).part)
	for i, r := range x.Sensors {
		c.Sensors[i].On = ownSide(c.Sensors[i].On, r.Side, pairs)
	}
	c.Envelopes, x.Envelopes = twins(c.Envelopes, (*Envelope).part)
	for i := range c.Envelopes {
		c.Envelopes[i].Beside.Folder = c.Folder
	}
	if c.Axle != nil {
		for i := range c.Axle.Housing {
			c.Axle.Housing[i].Beside.Folder = c.Folder
		}
	}
	return x
}

// trimSide takes the twin's word off a name.
func trimSide(name string) string {
	if n, ok := strings.CutSuffix(name, leftWord); ok {
		return n
	}
	return strings.TrimSuffix(name, rightWord)
}

// ownSide turns the name of a pair into that of its twin on the given side; a right twin that was drawn on "X left" sits on "X right".
func ownSide(on string, side Side, pairs map[string]bool) string {
	switch {
	case side == Left && pairs[on]:
		return on + leftWord
	case side == Right && pairs[on]:
		return on + rightWord
	case side == Right:
		if base, ok := strings.CutSuffix(on, leftWord); ok && pairs[base] {
			return base + rightWord
		}
		if base, ok := strings.CutSuffix(on, rightWord); ok && pairs[base] {
			return base + leftWord
		}
	}
	return on
}

// Carried reports whether an expanded envelope's carries list names the expanded part called name (a twin answers to its pair's name too).
func Carried(carries []string, name string) bool {
	base := trimSide(name)
	for _, c := range carries {
		if c == name || (base != name && c == base) {
			return true
		}
	}
	return false
}

// part gives what all parts of a list share: the name, whether it is a pair, and the mirroring of everything in it.
type part struct {
	name   *string
	pair   *bool
	mirror func()
}

// Mirror turns a part, all of it, into its mirror image in Y.
func Mirror[T interface{ part() part }](of T) { of.part().mirror() }

// twins replaces the pairs of a list by their twins.
func twins[T any](list []T, of func(*T) part) ([]T, []Ref) {
	if list == nil {
		return nil, nil
	}
	out := make([]T, 0, 2*len(list))
	refs := make([]Ref, 0, 2*len(list))
	for i := range list {
		p := of(&list[i])
		if !*p.pair {
			out, refs = append(out, list[i]), append(refs, Ref{Index: i})
			continue
		}
		for _, side := range []Side{Left, Right} {
			twin := deepCopyOf(&list[i])
			t := of(&twin)
			*t.pair = false
			if side == Left {
				*t.name += leftWord
			} else {
				*t.name += rightWord
				t.mirror()
			}
			out, refs = append(out, twin), append(refs, Ref{Index: i, Side: side})
		}
	}
	return out, refs
}

func (l *Link) part() part {
	return part{&l.Name, &l.Pair, func() {
		mirrorAll(&l.Frame, &l.Axle)
		mirrorList(l.Bends)
		l.FrameEnd.mirror()
		l.AxleEnd.mirror()
		if l.Clock != nil { // a turn about the mirrored link is the opposite one
			*l.Clock = 0 - *l.Clock
		}
	}}
}

func (a *Arm) part() part {
	return part{&a.Name, &a.Pair, func() {
		mirrorList(a.Frame)
		mirrorList(a.Axle)
		for i := range a.FrameEnds {
			a.FrameEnds[i].mirror()
		}
		for i := range a.AxleEnds {
			a.AxleEnds[i].mirror()
		}
	}}
}

func (s *Strut) part() part {
	return part{&s.Name, &s.Pair, func() { mirrorAll(&s.Frame, &s.Axle) }}
}

func (s *Stop) part() part {
	return part{&s.Name, &s.Pair, func() { mirrorAll(&s.Frame, &s.Axle, s.Axis) }}
}

func (s *Strap) part() part {
	return part{&s.Name, &s.Pair, func() { mirrorAll(&s.Frame, &s.Axle) }}
}

func (l *Line) part() part {
	return part{&l.Name, &l.Pair, func() { mirrorAll(&l.Frame, &l.Axle) }}
}

// A turn about a direction is the opposite turn about the mirrored direction, so the swing changes sign and its ends change places.
func (s *Sensor) part() part {
	return part{&s.Name, &s.Pair, func() {
		mirrorAll(&s.Shaft, &s.Axis, &s.Lever, &s.Far)
		if s.Swing != nil {
			*s.Swing = [2]float64{0 - s.Swing[1], 0 - s.Swing[0]}
		}
	}}
}

func (e *Envelope) part() part { return part{&e.Name, &e.Pair, e.mirror} }

// mirror reflects the shape in the centre plane. Mirroring R = Rz Ry Rx keeps the turn about Y and reverses those about X and Z.
func (e *Envelope) mirror() {
	e.Beside.Mirrored = !e.Beside.Mirrored
	if e.Min != nil && e.Max != nil {
		lo, hi := e.Min[1], e.Max[1]
		e.Min[1], e.Max[1] = 0-hi, 0-lo
	}
	if e.Turn != nil {
		*e.Turn = Point{0 - e.Turn[0], e.Turn[1], 0 - e.Turn[2]}
	}
	mirrorAll(e.Centre)
	mirrorList(e.Path)
	if e.Fill != nil {
		mirrorAll(e.Fill.Filler, e.Fill.Breather, e.Fill.Pickup, e.Fill.Dip)
	}
	switch e.Plane {
	case "side": // Y is the third axis
		if e.From != nil && e.To != nil {
			*e.From, *e.To = 0-*e.To, 0-*e.From
		}
	case "plan": // X, Y
		for i := range e.Outline {
			e.Outline[i][1] = 0 - e.Outline[i][1]
		}
	case "rear": // Y, Z
		for i := range e.Outline {
			e.Outline[i][0] = 0 - e.Outline[i][0]
		}
	}
}

func (e *End) mirror() {
	if e == nil {
		return
	}
	mirrorAll(e.Bolt)
	if o := e.BoltOut; o != nil {
		switch o.Way {
		case "left":
			o.Way = "right"
		case "right":
			o.Way = "left"
		}
	}
}

func mirrorAll(points ...*Point) {
	for _, p := range points {
		if p != nil {
			*p = p.Mirror()
		}
	}
}

func mirrorList(points []Point) {
	for i := range points {
		points[i] = points[i].Mirror()
	}
}
