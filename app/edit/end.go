package edit

import (
	"fmt"
	"math"
	"slices"

	"axleloft/app/words"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// held is how a pivot's end is held in the file, and where its bolt lies when nobody says. Directions are those of the entry the file gives.
type held struct {
	key    string         // "frameEnd", "axleEnds[1]", "rods[0].farEnd"
	end    func() job.End // a copy; empty where there is none
	set    func(job.End)  // an empty one is taken out
	along  r3.Vec         // unit, of the member: frame to axle, rocker to far end
	free   r3.Vec         // unit, the bolt nobody gave
	square string         // what that is called
	strict bool           // a bolt near to the member's own direction is refused
}

// endOf finds how a pivot is held; nil where it has no end of its own (struts, stops, joints ...).
func endOf(j *job.Job, p Pivot) *held {
	if find(j, p) == nil {
		return nil
	}
	single := func(key string, e **job.End, from, to job.Point, square string) *held {
		h := &held{key: key, along: unit(r3.Sub(to.Vec(), from.Vec())), square: square, strict: true}
		h.end = func() job.End {
			if *e == nil {
				return job.End{}
			}
			return **e
		}
		h.set = func(v job.End) {
			if *e = nil; v != (job.End{}) {
				*e = &v
			}
		}
		h.free = squareBolt(h.along)
		return h
	}
	switch p.List {
	case Links:
		l := &j.Links[p.Index]
		if p.End == AxleEnd {
			return single("axleEnd", &l.AxleEnd, l.Frame, l.Axle, words.Mark(BoltSquare))
		}
		return single("frameEnd", &l.FrameEnd, l.Frame, l.Axle, words.Mark(BoltSquare))
	case Rockers:
		if p.End == Centre {
			return nil
		}
		r := &j.Rockers[p.Index].Rods[p.Sub]
		key := fmt.Sprintf("rods[%d].", p.Sub)
		if p.End == FarEnd {
			return single(key+"farEnd", &r.FarEnd, r.Rocker, r.Far, words.Mark(boltSquareRod))
		}
		return single(key+"rockerEnd", &r.RockerEnd, r.Rocker, r.Far, words.Mark(boltSquareRod))
	case Arms:
		return armEnd(&j.Arms[p.Index], p)
	}
	return nil
}

// armEnd is an end of an arm: an A-arm's frame bolts lie on the line of its frame pivots, its axle bolt square to the arm; a radius arm's lie across.
func armEnd(a *job.Arm, p Pivot) *held {
	list, pivots, key := &a.FrameEnds, len(a.Frame), "frameEnds"
	if p.End == AxleEnd {
		list, pivots, key = &a.AxleEnds, len(a.Axle), "axleEnds"
	}
	h := &held{key: fmt.Sprintf("%s[%d]", key, p.Sub)}
	h.end = func() job.End {
		if p.Sub >= len(*list) {
			return job.End{}
		}
		return (*list)[p.Sub]
	}
	h.set = func(v job.End) {
		for len(*list) < pivots {
			*list = append(*list, job.End{})
		}
		(*list)[p.Sub] = v
		if !slices.ContainsFunc(*list, func(e job.End) bool { return e != job.End{} }) {
			*list = nil
		}
	}
	h.along = unit(r3.Sub(middle(a.Axle), middle(a.Frame)))
	h.strict = h.end().Kind == "bush"
	switch {
	case len(a.Frame) < 2:
		h.free, h.square = r3.Vec{Y: 1}, words.Mark(BoltAcross)
	case p.End == FrameEnd:
		h.free, h.square = unit(r3.Sub(a.Frame[0].Vec(), a.Frame[1].Vec())), words.Mark(boltOnLine)
		if h.free.Y < 0 {
			h.free = r3.Scale(-1, h.free)
		}
	default:
		h.free, h.square = squareBolt(h.along), words.Mark(boltSquareArm)
	}
	return h
}

func unit(v r3.Vec) r3.Vec {
	if n := r3.Norm(v); n > 0 {
		return r3.Scale(1/n, v)
	}
	return r3.Vec{}
}

func middle(list []job.Point) r3.Vec {
	sum := r3.Vec{}
	for _, p := range list {
		sum = r3.Add(sum, p.Vec())
	}
	return r3.Scale(1/math.Max(1, float64(len(list))), sum)
}

// End is how a pivot is held as the file says it, an empty one where it says nothing; ok is false for a pivot that has no end of its own.
func EndAt(j *job.Job, p Pivot) (end job.End, ok bool) {
	h := endOf(j, p)
	if h == nil {
		return job.End{}, false
	}
	return h.end(), true
}

// EndKey is where the fields of a pivot's end stand in its part's form: "frameEnd", "axleEnds[1]", "rods[0].farEnd"; "" where it has no end.
// The fields' keys are EndKey + ".kind", ".bolt", ".boltTurned", ".misalignment", ".clevis.head" ...
func EndKey(j *job.Job, p Pivot) string {
	if h := endOf(j, p); h != nil {
		return h.key
	}
	return ""
}

// Bolt is which way a pivot's bolt lies at ride height, a unit vector in body axes (mirrored for the right twin), where nobody gave it the
// way it lies then; ok is false for a pivot that has none.
func Bolt(j *job.Job, p Pivot) (dir r3.Vec, ok bool) {
	h := endOf(j, p)
	if h == nil {
		return r3.Vec{}, false
	}
	dir = h.free
	if b := h.end().Bolt; b != nil {
		dir = unit(b.Vec())
	}
	if find(j, p).mirrored(p) {
		dir.Y = 0 - dir.Y
	}
	return dir, dir != r3.Vec{}
}

// BoltWords say how a pivot's bolt lies: "across", "square to its link, turned 12 deg"; "" where it has none. A right twin's read as it lies.
func BoltWords(j *job.Job, p Pivot) string {
	h := endOf(j, p)
	if h == nil {
		return ""
	}
	bolt := h.end().Bolt
	if find(j, p).mirrored(p) {
		h.along.Y, h.free.Y = 0-h.along.Y, 0-h.free.Y
		if bolt != nil {
			m := bolt.Mirror()
			bolt = &m
		}
	}
	return h.direction(bolt).String()
}

// TurnBolt lays a pivot's bolt along a direction (body axes, ride height, as the hand took it: the right twin's is mirrored). One that lies
// within 10 deg of its own link is refused.
func TurnBolt(j *job.Job, p Pivot, dir r3.Vec) error {
	h := endOf(j, p)
	if h == nil {
		return errGone
	}
	s := find(j, p)
	if s.mirrored(p) {
		dir.Y = 0 - dir.Y
	}
	if dir = unit(dir); !(r3.Norm(dir) > 0) {
		return words.Errorf("%s: the bolt must lie some way.", s.words(p))
	}
	if h.strict && math.Abs(r3.Dot(dir, h.along)) > math.Cos(nearLink*math.Pi/180) {
		return words.Errorf("%s: within %d deg of its own link a bolt cannot hold it. Turn it the other way.", s.words(p), nearLink)
	}
	e := h.end()
	e.Bolt = &job.Point{tidy(dir.X), tidy(dir.Y), tidy(dir.Z)}
	h.set(e)
	return nil
}

// end is how a pivot is held; the first word set makes it, an end without anything set is taken out.
func (f *form) end(p Pivot) {
	h := endOf(f.j, p)
	key, now := h.key, h.end()
	// Every setter works on a copy.
	keep := func(change func(*job.End) error) error {
		c := h.end()
		if err := change(&c); err != nil {
			return err
		}
		h.set(c)
		return nil
	}
	f.choice(key+".kind", words.T("Held by"), now.Kind, true, words.T("not known"), []string{words.Mark("bush"), words.Mark("ball"), words.Mark("stud")}, func(w string) error {
		return keep(func(c *job.End) error { c.Kind = w; return nil })
	})
	f.lies(h, key+".bolt", words.T("Bolt"), h.direction(now.Bolt), func(change func(*lie)) error {
		return keep(func(c *job.End) (err error) {
			l := h.direction(c.Bolt)
			change(&l)
			c.Bolt, err = h.bolt(l)
			return err
		})
	})
	square := ""
	if now.Square != nil {
		square = yes(*now.Square)
	}
	if p.List != Arms { // an arm's eyes lie on their bolts at ride
		f.choice(key+".square", words.T("Eye square to its link"), square, true, words.T("as usual for its kind"), []string{words.Mark("yes"), words.Mark("no")}, func(w string) error {
			return keep(func(c *job.End) error {
				c.Square = nil
				if w != "" {
					v := w == "yes"
					c.Square = &v
				}
				return nil
			})
		})
	}
	number := func(k, label string, u Unit, suffix string, of func(*job.End) **float64, b bounds, def string) {
		v := *of(&now)
		x := f.optional(key+"."+k, label, u, &v, b, def)
		if suffix != "" {
			x.Suffix = suffix
		}
		set := x.set
		x.set = func(t string) error {
			if err := set(t); err != nil {
				return err
			}
			return keep(func(c *job.End) error {
				*of(c) = v
				if c.Adjust == nil { // its thread goes with it
					c.Thread, c.Hand = nil, ""
				}
				return nil
			})
		}
	}
	limit := bounds{0, 180, true}
	tilt := bounds{0, 90, true}
	number("misalignment", words.T("Tilts up to"), Angle, "", func(c *job.End) **float64 { return &c.Misalignment }, tilt, words.T("not known"))
	number("torsion", words.T("Twists up to"), Angle, "", func(c *job.End) **float64 { return &c.Torsion }, limit, words.T("not known"))
	number("radialStiffness", words.T("Give, square to the bolt"), Number, "N/mm", func(c *job.End) **float64 { return &c.RadialStiffness }, positive, words.T("10000 for a bush, 100000 for a ball or stud"))
	number("axialStiffness", words.T("Give, along the bolt"), Number, "N/mm", func(c *job.End) **float64 { return &c.AxialStiffness }, positive, words.T("a quarter of that square to the bolt"))
	number("bracket", words.T("Own bracket reaches"), Length, "", func(c *job.End) **float64 { return &c.Bracket }, notNeg, showLength(f.j, 80)+" "+shownLength(f.j))
	number("takes", words.T("Takes of the link's length"), Length, "", func(c *job.End) **float64 { return &c.Takes }, positive, words.T("not known"))
	number("adjust", words.T("Screws in and out by"), Length, "", func(c *job.End) **float64 { return &c.Adjust }, positive, words.T("does not screw"))
	if now.Adjust != nil {
		number("thread", words.T("Its thread, a turn"), Length, "", func(c *job.End) **float64 { return &c.Thread }, positive, words.T("not known"))
		f.choice(key+".hand", words.T("Hand of the thread"), now.Hand, true, "right", []string{words.Mark("right"), words.Mark("left")}, func(w string) error {
			return keep(func(c *job.End) error { c.Hand = w; return nil })
		})
	}
	if now.Kind != "bush" {
		f.clevis(key, now.Clevis, keep)
	}
	if p.List != Rockers || p.End == FarEnd { // a bolt on a rocker turns with it: its way out is not looked at
		f.boltOut(key+".boltOut", now.BoltOut, keep)
	}
}

// The room a bolt needs begins from any one of its sizes: the others are taken of these shares of its length till they are typed (common practice, no source).
const (
	usualAcross = 0.25 // head or socket across to the bolt's length
	usualGrip   = 0.7  // what it clamps to its length
)

// size is one of the sizes of a thing at an end that begins from any of them.
type size[T any] struct {
	key, label string
	of         func(*T) *float64
	begin      func(v float64) *T
}

// fromAny are the fields of such a thing: one typed makes it, a size taken out ends it, def stands where there is none.
func fromAny[T any](f *form, key, def string, now *T, at func(*job.End) **T, keep func(func(*job.End) error) error, sizes ...size[T]) {
	for _, one := range sizes {
		var v *float64
		if now != nil {
			v = one.of(now)
		}
		x := f.optional(key+"."+one.key, one.label, Length, &v, positive, def)
		set := x.set
		x.set = func(t string) error {
			if v != nil {
				w := *v
				v = &w
			}
			if err := set(t); err != nil {
				return err
			}
			return keep(func(e *job.End) error {
				switch p := at(e); {
				case v == nil:
					*p = nil
				case *p == nil:
					*p = one.begin(*v)
				default:
					c := **p
					*one.of(&c) = *v
					*p = &c
				}
				return nil
			})
		}
	}
}

// boltOut are the sizes of what has to pass when the bolt is drawn out, and which way. Taking out the length takes it all out.
func (f *form) boltOut(key string, now *job.BoltOut, keep func(func(*job.End) error) error) {
	begin := func(length float64) *job.BoltOut {
		return &job.BoltOut{Length: length, Across: tidy(usualAcross * length), Grip: tidy(usualGrip * length)}
	}
	fromAny(f, key, words.T("not looked at"), now, func(e *job.End) **job.BoltOut { return &e.BoltOut }, keep,
		size[job.BoltOut]{"length", words.T("Bolt drawn out: its length with the head"), func(o *job.BoltOut) *float64 { return &o.Length }, begin},
		size[job.BoltOut]{"across", words.T("Bolt drawn out: head or socket across"), func(o *job.BoltOut) *float64 { return &o.Across }, func(v float64) *job.BoltOut { o := begin(v / usualAcross); o.Across = v; return o }},
		size[job.BoltOut]{"grip", words.T("Bolt drawn out: what it clamps, outside to outside"), func(o *job.BoltOut) *float64 { return &o.Grip }, func(v float64) *job.BoltOut { o := begin(v / usualGrip); o.Grip = v; return o }})
	if now == nil {
		return
	}
	f.choice(key+".way", words.T("Bolt drawn out: which way"), now.Way, true, words.T("either way"), []string{words.Mark("left"), words.Mark("right"), words.Mark("forward"), words.Mark("back"), words.Mark("up"), words.Mark("down")}, func(w string) error {
		return keep(func(e *job.End) error {
			if e.BoltOut != nil {
				o := *e.BoltOut
				o.Way = w
				e.BoltOut = &o
			}
			return nil
		})
	})
}

// lies are the fields of a direction: its word, deg turned, and deg one end is up. set changes it as it then lies.
func (f *form) lies(h *held, key, label string, now lie, set func(change func(*lie)) error) {
	f.choice(key, label, now.word, false, "", h.words(), func(w string) error {
		return set(func(l *lie) {
			if l.word != w {
				*l = lie{word: w}
			}
		})
	})
	angle := func(k, what string, v float64, of func(*lie) *float64) {
		what = label + ", " + what
		f.add(Field{Key: key + k, Label: what, Unit: Angle, Value: v, Text: plain(v), set: func(t string) error {
			v, err := f.parse(Angle, what, t)
			if err != nil {
				return err
			}
			return set(func(l *lie) { *of(l) = v })
		}})
	}
	angle(words.T("Turned"), "turned", now.turned, func(l *lie) *float64 { return &l.turned })
	if what := raisedLabel(now.word); what != "" {
		angle(words.T("Raised"), what, now.raised, func(l *lie) *float64 { return &l.raised })
	}
}

// A clevis begins from any one of its sizes: the others are taken as usual for a rod end (common practice, no source) till they are typed.
const (
	usualHead  = 2.0  // head across to the ball's width
	usualWidth = 0.75 // the head's width to the ball's
)

// clevis are the sizes of what a rod end sits in. Taking out the head takes out the clevis.
func (f *form) clevis(key string, now *job.Clevis, keep func(func(*job.End) error) error) {
	whose := words.T("Rod end between cheeks: ")
	begin := func(ball float64) *job.Clevis {
		return &job.Clevis{Head: usualHead * ball, HeadWidth: usualWidth * ball, BallWidth: ball}
	}
	fromAny(f, key+".clevis", words.T("not between cheeks"), now, func(e *job.End) **job.Clevis { return &e.Clevis }, keep,
		size[job.Clevis]{"head", words.F("%shead across", whose), func(c *job.Clevis) *float64 { return &c.Head }, func(v float64) *job.Clevis { return begin(v / usualHead) }},
		size[job.Clevis]{"headWidth", words.F("%shead's width", whose), func(c *job.Clevis) *float64 { return &c.HeadWidth }, func(v float64) *job.Clevis { return begin(v / usualWidth) }},
		size[job.Clevis]{"ballWidth", words.F("%sball's width", whose), func(c *job.Clevis) *float64 { return &c.BallWidth }, begin})
	if now == nil {
		return
	}
	for _, one := range []struct {
		k, label, def string
		of            func(*job.Clevis) **float64
	}{
		{"gap", words.F("%sgap between the cheeks", whose), words.T("the ball's width"), func(c *job.Clevis) **float64 { return &c.Gap }},
		{"edgeRadius", words.F("%shead's edges rounded by", whose), words.T("square edges"), func(c *job.Clevis) **float64 { return &c.EdgeRadius }},
	} {
		v := *one.of(now)
		x := f.optional(key+".clevis."+one.k, one.label, Length, &v, notNeg, one.def)
		set := x.set
		x.set = func(t string) error {
			if err := set(t); err != nil {
				return err
			}
			return keep(func(e *job.End) error {
				if e.Clevis != nil {
					c := *e.Clevis
					*one.of(&c) = v
					e.Clevis = &c
				}
				return nil
			})
		}
	}
}
