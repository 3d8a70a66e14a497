package edit

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// Words of an outline's planes.
var planes = []string{"side", "plan", "rear"}

func (f *form) partLock() error {
	if IsPartMeasured(f.j, f.part) {
		return locked(PartName(f.j, f.part))
	}
	return nil
}

func (f *form) partMark() {
	f.yesNo("measured", words.T("Measured"), IsPartMeasured(f.j, f.part), func(m bool) error { return SetPartMeasured(f.j, f.part, m) })
}

// envelope is a part in the way, or a piece of the housing.
func (f *form) envelope() {
	housing := f.part.List == Housing
	var e *job.Envelope
	if housing {
		e = &f.j.Axle.Housing[f.part.Index]
	} else {
		e = &f.j.Envelopes[f.part.Index]
	}
	f.name()
	if !housing {
		f.yesNo("pair", words.T("Twin on the other side"), e.Pair, func(pair bool) error {
			if pair == e.Pair {
				return nil
			}
			if !pair {
				return Unlink(f.j, f.part)
			}
			if _, unlinked := Unlinked(f.j, f.part); unlinked {
				return LinkAgain(f.j, f.part)
			}
			if _, err := checkName(takenNames(f.j, &e.Name), e.Name, true); err != nil {
				return err
			}
			e.Pair = true
			return nil
		})
	}
	kind := map[string]string{"box": "box", "prism": words.T("outline in a view"), "ball": "ball", "tube": "pipe", "mesh": words.T("shape from a file")}[e.Kind]
	f.readOnly("kind", words.T("Shape"), "", kind, math.NaN())
	f.lock = f.partLock
	f.group = words.T("Where it is")
	f.places(e)
	if !housing {
		f.known(e)
	}
	f.lock, f.group = nil, ""
	if v := Litres(f.j, e); !math.IsNaN(v) {
		f.readOnly("litres", words.T("Holds, outside measure"), "L", fmt.Sprintf("%.1f", v), v)
	}
	f.clearance(&e.Clearance, 25)
	if housing {
		f.partMark()
		return
	}
	f.yesNo("vessel", words.T("Tank or other vessel"), e.Vessel, func(v bool) error { e.Vessel = v; return nil })
	if e.Vessel {
		f.filling(e)
	}
	f.yesNo("movable", words.T("Can move"), e.Movable, func(v bool) error { e.Movable = v; return nil })
	f.add(Field{Key: "carries", Label: words.T("Carries"), Unit: NameList, Optional: true, Default: "nothing", Choices: mountable(f.j),
		Text: strings.Join(e.Carries, ", "), Value: math.NaN(), set: func(t string) error {
			var out []string
			for _, n := range strings.Split(t, ",") {
				n = strings.TrimSpace(n)
				if n == "" || slices.Contains(out, n) {
					continue
				}
				if !slices.Contains(mountable(f.j), n) {
					return words.Errorf("Carries: there is no link, arm, rod, strut, stop, strap, line or sensor called %q.", n)
				}
				out = append(out, n)
			}
			e.Carries = out
			return nil
		}})
	f.partMark()
}

// filling says where a tank is filled, breathes, is emptied from and is dipped. Giving the first place makes it, taking out the last ends it.
func (f *form) filling(e *job.Envelope) {
	var fill job.Fill
	if e.Fill != nil {
		fill = *e.Fill
	}
	for _, n := range []struct {
		key, label, empty string
		at                **job.Point
	}{{"filler", words.T("Filler neck's lower edge, X, Y, Z"), words.T("not given"), &fill.Filler}, {"breather", words.T("Breather's lower end, X, Y, Z"), words.T("not given"), &fill.Breather},
		{"pickup", words.T("Pick-up's end, X, Y, Z"), words.T("not given"), &fill.Pickup}, {"dip", words.T("Dip stick, X, Y, Z"), words.T("the middle of the tank"), &fill.Dip}} {
		var now [][]float64
		if *n.at != nil {
			now = [][]float64{(*n.at)[:]}
		}
		x := f.points("fill."+n.key, n.label, 3, now, 0, func(out [][]float64) {
			*n.at = nil
			if len(out) > 0 {
				p := job.Point(out[0])
				*n.at = &p
			}
			if e.Fill = nil; fill != (job.Fill{}) {
				e.Fill = &fill
			}
		})
		x.Default = n.empty
		one(x, n.label, 3, words.T("one place, three numbers with commas between them"))
	}
}

// places are the numbers of a shape. Setting one keeps what was typed.
func (f *form) places(e *job.Envelope) {
	from := len(f.list)
	switch e.Kind {
	case "box":
		if e.Min == nil || e.Max == nil {
			break
		}
		for a := X; a <= Z; a++ {
			lo, hi := &e.Min[a], &e.Max[a]
			f.number("min."+axisKeys[a], words.F("%s from", a.String()), Length, lo, anyValue)
			f.number("max."+axisKeys[a], words.F("%s to", a.String()), Length, hi, anyValue)
			f.push(e, lo, hi)
		}
		turn := job.Point{}
		if e.Turn != nil {
			turn = *e.Turn
		}
		for a := X; a <= Z; a++ {
			x := f.number("turn."+axisKeys[a], words.F("Turned about %s", a.String()), Angle, &turn[a], bounds{-360, 360, false})
			set := x.set
			x.set = func(t string) error {
				if err := set(t); err != nil {
					return err
				}
				e.Turn = nil
				if turn != (job.Point{}) {
					c := turn
					e.Turn = &c
				}
				return nil
			}
		}
	case "prism":
		f.choice("plane", words.T("Drawn in"), e.Plane, false, "", planes, func(w string) error { e.Plane = w; return nil })
		var now [][]float64
		for _, p := range e.Outline {
			now = append(now, p[:])
		}
		axes := map[string]string{"side": "X, Z", "plan": "X, Y", "rear": "Y, Z"}[e.Plane]
		third := map[string]string{"side": "Y", "plan": "Z", "rear": "X"}[e.Plane]
		f.points("outline", words.F("Corners, %s", axes), 2, now, 3, func(out [][]float64) {
			e.Outline = nil
			for _, p := range out {
				e.Outline = append(e.Outline, job.Point2(p))
			}
		})
		if e.From != nil && e.To != nil {
			f.number("from", words.F("%s from", third), Length, e.From, anyValue)
			f.number("to", words.F("%s to", third), Length, e.To, anyValue)
			f.push(e, e.From, e.To)
		}
	case "ball":
		if e.Centre != nil {
			f.point("centre", words.T("Centre"), Length, e.Centre)
		}
		f.optional("radius", words.T("Radius"), Length, &e.Radius, positive, "").Optional = false
	case "tube":
		f.bends("path", words.T("Along X, Y, Z"), &e.Path)
		f.list[len(f.list)-1].Optional = false
		f.optional("outside", words.T("Outside"), Length, &e.Outside, positive, "").Optional = false
	case "mesh":
		x := f.text("file", words.T("STL file beside the job, mm"), Text, &e.File)
		x.Optional = false
		set := x.set
		x.set = func(t string) error {
			was := e.File
			if err := set(t); err != nil {
				return err
			}
			if e.File == "" {
				e.File = was
				return words.Errorf("The part needs a file: the bare name of an STL file beside the job, such as \"tank.stl\".")
			}
			return nil
		}
	}
	for k := from; k < len(f.list); k++ {
		x := &f.list[k]
		if x.Unit != Length {
			continue
		}
		x.Guess = !isGiven(e.Given[x.Key]) && !IsPartMeasured(f.j, f.part)
		if g := e.Given[x.Key]; g.Typed != "" {
			x.Text = g.Typed
		}
		set, key := x.set, x.Key
		x.set = func(t string) error {
			if err := set(t); err != nil {
				return err
			}
			g := e.Given[key]
			g.Typed = strings.TrimSpace(t)
			setGiven(&e.Given, key, g)
			return nil
		}
	}
}

// wholeKeys are the numbers of a shape that are always there, whatever corners it has: how the whole of it is known is kept with them.
var wholeKeys = map[string][]string{"box": {"min.x", "min.y", "min.z", "max.x", "max.y", "max.z"}, "prism": {"from", "to"}, "ball": {"radius"}, "tube": {"outside"}}

// PartGiven is how far off a part in the way may be, mm, NaN where nobody says or its numbers differ, and where it is from, "" likewise.
func PartGiven(e *job.Envelope) (plusMinus float64, source string) {
	plusMinus = math.NaN()
	for i, key := range wholeKeys[e.Kind] {
		g := e.Given[key]
		off := math.NaN()
		if g.PlusMinus != nil {
			off = *g.PlusMinus
		}
		switch {
		case i == 0:
			plusMinus, source = off, g.Source
			continue
		case off != plusMinus:
			plusMinus = math.NaN()
		}
		if g.Source != source {
			source = ""
		}
	}
	return plusMinus, source
}

// known are how far off the whole part may be, and where that is from. A ± alone leaves it a guess.
func (f *form) known(e *job.Envelope) {
	keys := wholeKeys[e.Kind]
	if len(keys) == 0 {
		return
	}
	off, source := PartGiven(e)
	each := func(change func(*job.GivenValue)) {
		for _, key := range keys {
			g := e.Given[key]
			change(&g)
			setGiven(&e.Given, key, g)
		}
	}
	var v *float64
	if !math.IsNaN(off) {
		v = &off
	}
	x := f.optional("plusMinus", words.T("May be off by, ±"), Length, &v, notNeg, words.T("not known"))
	set := x.set
	x.set = func(t string) error {
		if err := set(t); err != nil {
			return err
		}
		each(func(g *job.GivenValue) {
			if g.PlusMinus = nil; v != nil {
				own := *v
				g.PlusMinus = &own
			}
		})
		return nil
	}
	s := source
	x = f.text("source", words.T("How it was measured"), Text, &s)
	x.Default = words.T("in a few words")
	said := x.set
	x.set = func(t string) error {
		if err := said(t); err != nil {
			return err
		}
		if len([]rune(s)) > longestSource {
			return words.Errorf("%s: the source is longer than %d letters. Say it shorter.", PartName(f.j, f.part), longestSource)
		}
		each(func(g *job.GivenValue) { g.Source = s })
		return nil
	}
}

// push makes the last two fields, the lower and the upper end of a part along an axis, push each other: an end typed beyond the other takes the part
// along at its size, so that both can be typed in either order. What was typed of the end that was pushed is forgotten.
func (f *form) push(e *job.Envelope, lo, hi *float64) {
	n := len(f.list)
	for k, of := range [2]*float64{lo, hi} {
		x, other, end := &f.list[n-2+k], f.list[n-1-k].Key, [2]*float64{hi, lo}[k]
		set := x.set
		x.set = func(t string) error {
			was := *of
			if err := set(t); err != nil {
				return err
			}
			if *lo >= *hi {
				*end += *of - was
				delete(e.Given, other)
			}
			return nil
		}
	}
}

// mountable are the names a part in the way can carry.
func mountable(j *job.Job) []string {
	var out []string
	for _, l := range []List{Links, Arms, Rockers, Struts, Stops, Straps, Lines, Sensors} {
		for i := range Len(j, l) {
			e, _ := at(j, Part{l, i})
			out = append(out, *e.name)
			if e.pair != nil && *e.pair {
				out = append(out, *e.name+" left", *e.name+" right")
			}
		}
	}
	for i := range j.Rockers {
		for k := range j.Rockers[i].Rods {
			out = append(out, j.Rockers[i].Rods[k].Name)
		}
	}
	if j.Driveline != nil {
		out = append(out, words.T("Driveshaft"))
	}
	return out
}

// Litres is the gross, outside volume of one part in the way of a job, L; NaN where it is not a vessel, the volume has no simple form or its file has holes or cannot be read.
func Litres(j *job.Job, e *job.Envelope) float64 {
	if !e.Vessel {
		return math.NaN()
	}
	at := j.Envelope(e)
	if v, ok := clearance.Volume(&at); ok {
		return v
	}
	return math.NaN()
}

// AddBox adds a part in the way by two opposite corners.
func AddBox(j *job.Job, name string, a, b r3.Vec) (Part, error) {
	lo := job.Point{math.Min(a.X, b.X), math.Min(a.Y, b.Y), math.Min(a.Z, b.Z)}
	hi := job.Point{math.Max(a.X, b.X), math.Max(a.Y, b.Y), math.Max(a.Z, b.Z)}
	for k, axis := range []string{"X", "Y", "Z"} {
		if !(hi[k]-lo[k] >= shortest) {
			return Part{}, words.Errorf("The box has no thickness along %s: its two corners have the same %s.", axis, axis)
		}
	}
	return addEnvelope(j, job.Envelope{Name: name, Kind: "box", Min: &lo, Max: &hi})
}

// AddOutline adds a part in the way by its outline in a view ("side", "plan" or "rear") between two places on the third axis.
// Corners are in the plane's own axes: side X, Z; plan X, Y; rear Y, Z.
func AddOutline(j *job.Job, name, plane string, outline []job.Point2, from, to float64) (Part, error) {
	if !slices.Contains(planes, plane) {
		return Part{}, words.Errorf("An outline is drawn in the side, plan or rear view, not in %q.", plane)
	}
	if len(outline) < 3 {
		return Part{}, words.Errorf("An outline needs at least three corners. Add one more.")
	}
	from, to = math.Min(from, to), math.Max(from, to)
	if !(to-from >= shortest) {
		return Part{}, words.Errorf("The part has no thickness: it must go from one place to another square to the view.")
	}
	return addEnvelope(j, job.Envelope{Name: name, Kind: "prism", Plane: plane, Outline: slices.Clone(outline), From: &from, To: &to})
}

// AddPipe adds a part in the way by points along its centre line and its outside diameter.
func AddPipe(j *job.Job, name string, path []r3.Vec, outside float64) (Part, error) {
	if len(path) < 2 {
		return Part{}, words.Errorf("A pipe needs at least two points. Add one more.")
	}
	if !(outside > 0) {
		return Part{}, words.Errorf("The pipe's outside must be more than 0. Type its diameter.")
	}
	e := job.Envelope{Name: name, Kind: "tube", Outside: &outside}
	for i, p := range path {
		if i > 0 && r3.Norm(r3.Sub(p, path[i-1])) < shortest {
			return Part{}, words.Errorf("Two points of the pipe lie in one place. Take one away.")
		}
		e.Path = append(e.Path, job.Point{p.X, p.Y, p.Z})
	}
	return addEnvelope(j, e)
}

// AddFile adds a part in the way whose shape is in an STL file beside the job; the part is called as the file is.
func AddFile(j *job.Job, file string) (Part, error) {
	name := strings.TrimSpace(strings.TrimSuffix(file, filepath.Ext(file)))
	if name == "" {
		name = words.T("Part")
	}
	return addEnvelope(j, job.Envelope{Name: FreeName(j, name), Kind: "mesh", File: file})
}

func addEnvelope(j *job.Job, e job.Envelope) (Part, error) {
	if strings.TrimSpace(e.Name) == "" {
		e.Name = FreeName(j, words.T("Part"))
	}
	name, err := checkName(takenNames(j, nil), e.Name, e.Pair)
	if err != nil {
		return Part{}, err
	}
	e.Name = name
	j.Envelopes = append(j.Envelopes, e)
	return Part{Envelopes, len(j.Envelopes) - 1}, nil
}
