package edit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// Axis is a body axis.
type Axis uint8

// The axes.
const (
	X Axis = iota
	Y
	Z
)

// axisKeys are the axes as places within a part are keyed.
var axisKeys = [3]string{"x", "y", "z"}

// String is the axis as the screen writes it.
func (a Axis) String() string { return [3]string{"X", "Y", "Z"}[a] }

// slot is where the file keeps a pivot.
type slot struct {
	at       *job.Point
	given    *job.Given
	measured *[]string
	key      string   // "frame", "axle[1]", "rods[0].far", "joint"
	all      []string // an arm's pivots at that end: "frame" among the measured ones marks all of them
	pair     bool
	name     string
	what     string // "frame end"
}

// find finds the slot of a pivot; nil where the job has no such pivot.
func find(j *job.Job, p Pivot) *slot {
	if p.Index < 0 {
		return nil
	}
	pick := func(name string, pair bool, frame, axle *job.Point, g *job.Given, m *[]string, phrase [2]string) *slot {
		if p.End == AxleEnd {
			return &slot{at: axle, given: g, measured: m, key: "axle", pair: pair, name: name, what: phrase[1]}
		}
		return &slot{at: frame, given: g, measured: m, key: "frame", pair: pair, name: name, what: phrase[0]}
	}
	ends := [2]string{words.T("frame end"), words.T("axle end")}
	switch p.List {
	case Links:
		if p.Index < len(j.Links) {
			l := &j.Links[p.Index]
			return pick(l.Name, l.Pair, &l.Frame, &l.Axle, &l.Given, &l.Measured, ends)
		}
	case Struts:
		if p.Index < len(j.Struts) {
			l := &j.Struts[p.Index]
			return pick(l.Name, l.Pair, &l.Frame, &l.Axle, &l.Given, &l.Measured, ends)
		}
	case Stops:
		if p.Index < len(j.Stops) {
			l := &j.Stops[p.Index]
			return pick(l.Name, l.Pair, &l.Frame, &l.Axle, &l.Given, &l.Measured, [2]string{words.T("stop on the frame"), words.T("pad on the axle")})
		}
	case Straps:
		if p.Index < len(j.Straps) {
			l := &j.Straps[p.Index]
			return pick(l.Name, l.Pair, &l.Frame, &l.Axle, &l.Given, &l.Measured, ends)
		}
	case Lines:
		if p.Index < len(j.Lines) {
			l := &j.Lines[p.Index]
			return pick(l.Name, l.Pair, &l.Frame, &l.Axle, &l.Given, &l.Measured, [2]string{words.T("clip on the frame"), words.T("clip on the axle")})
		}
	case Output:
		if p.Index == 0 && j.Driveline != nil && j.Driveline.Output != nil {
			o := j.Driveline.Output
			return &slot{at: &o.Joint, given: &o.Given, measured: &o.Measured, key: "joint", name: words.T("Output joint")}
		}
	case Pinion:
		if p.Index == 0 && j.Axle != nil && j.Axle.Pinion != nil {
			o := j.Axle.Pinion
			return &slot{at: &o.Joint, given: &o.Given, measured: &o.Measured, key: "joint", name: words.T("Pinion joint")}
		}
	case Bearing:
		if p.Index == 0 && j.Driveline != nil && j.Driveline.Bearing != nil {
			o := j.Driveline.Bearing
			return &slot{at: &o.Joint, given: &o.Given, measured: &o.Measured, key: "joint", name: words.T("Centre bearing joint")}
		}
	case Arms:
		if p.Index < len(j.Arms) {
			return armSlot(&j.Arms[p.Index], p)
		}
	case Rockers:
		if p.Index < len(j.Rockers) {
			return rockerSlot(&j.Rockers[p.Index], p)
		}
	case Sensors:
		if p.Index < len(j.Sensors) {
			s := &j.Sensors[p.Index]
			for _, e := range sensorEnds {
				if e.end == p.End {
					return &slot{at: e.at(s), given: &s.Given, measured: &s.Measured, key: e.key, pair: s.Pair, name: s.Name, what: words.T(e.what)}
				}
			}
		}
	}
	return nil
}

// sensorEnds are the places of a height sensor.
var sensorEnds = []struct {
	end       End
	key, what string
	at        func(*job.Sensor) *job.Point
}{
	{Shaft, "shaft", words.Mark("shaft"), func(s *job.Sensor) *job.Point { return &s.Shaft }},
	{LeverEnd, "lever", words.Mark("lever's end"), func(s *job.Sensor) *job.Point { return &s.Lever }},
	{FarEnd, "far", words.Mark("rod's far end"), func(s *job.Sensor) *job.Point { return &s.Far }},
}

// ordinals tell an arm's two pivots at one end apart.
var ordinals = [2]string{words.Mark("first "), words.Mark("second ")}

func armSlot(a *job.Arm, p Pivot) *slot {
	list, key, what := a.Frame, "frame", words.T("frame end")
	if p.End == AxleEnd {
		list, key, what = a.Axle, "axle", words.T("axle end")
	}
	if p.Sub < 0 || p.Sub >= len(list) || p.End > AxleEnd {
		return nil
	}
	s := &slot{at: &list[p.Sub], given: &a.Given, measured: &a.Measured, key: fmt.Sprintf("%s[%d]", key, p.Sub), pair: a.Pair, name: a.Name, what: what}
	if len(list) > 1 {
		s.what = words.T(ordinals[min(p.Sub, 1)]) + what
	}
	s.all = make([]string, len(list))
	for i := range list {
		s.all[i] = fmt.Sprintf("%s[%d]", key, i)
	}
	return s
}

func rockerSlot(k *job.Rocker, p Pivot) *slot {
	if p.End == Centre {
		return &slot{at: &k.Pivot, given: &k.Given, measured: &k.Measured, key: "pivot", name: k.Name, what: "bolt"}
	}
	if p.Sub < 0 || p.Sub >= len(k.Rods) {
		return nil
	}
	rod := &k.Rods[p.Sub]
	switch p.End {
	case RockerEnd:
		return &slot{at: &rod.Rocker, given: &k.Given, measured: &k.Measured, key: fmt.Sprintf("rods[%d].rocker", p.Sub), name: rod.Name, what: words.T("rocker end")}
	case FarEnd:
		return &slot{at: &rod.Far, given: &k.Given, measured: &k.Measured, key: fmt.Sprintf("rods[%d].far", p.Sub), name: rod.Name, what: words.T("far end")}
	}
	return nil
}

// mirrored reports whether the hand took the twin the file does not give.
func (s *slot) mirrored(p Pivot) bool { return s.pair && p.Side == job.Right }

// whole is the mark that stands for all of an arm's pivots at one end: "frame".
func (s *slot) whole() string {
	if len(s.all) == 0 {
		return s.key
	}
	return s.key[:strings.IndexByte(s.key, '[')]
}

func (s *slot) isMeasured() bool {
	return slices.Contains(*s.measured, s.key) || slices.Contains(*s.measured, s.whole())
}

func (s *slot) setMeasured(m bool) {
	if whole := s.whole(); !m && whole != s.key && slices.Contains(*s.measured, whole) {
		setListed(s.measured, whole, false)
		for _, k := range s.all {
			setListed(s.measured, k, true)
		}
	}
	setListed(s.measured, s.key, m)
}

func (s *slot) words(p Pivot) string {
	name := s.name
	if s.pair {
		switch p.Side {
		case job.Left:
			name += " left"
		case job.Right:
			name += " right"
		}
	}
	if s.what == "" {
		return name
	}
	return name + ", " + s.what
}

// gone is the refusal for a pivot or part that is no longer there.
var errGone = words.Sentence("That part is no longer in the job. Take another one.")

// Pivots lists every pivot the job has, in file order, each pair once (Side Left; Single where there is no twin).
func Pivots(j *job.Job) []Pivot {
	var out []Pivot
	both := func(l List, i int, pair bool) {
		side := job.Single
		if pair {
			side = job.Left
		}
		out = append(out, Pivot{List: l, Index: i, End: FrameEnd, Side: side}, Pivot{List: l, Index: i, End: AxleEnd, Side: side})
	}
	for i := range j.Links {
		both(Links, i, j.Links[i].Pair)
	}
	for i := range j.Arms {
		side := job.Single
		if j.Arms[i].Pair {
			side = job.Left
		}
		for k := range j.Arms[i].Frame {
			out = append(out, Pivot{List: Arms, Index: i, End: FrameEnd, Side: side, Sub: k})
		}
		for k := range j.Arms[i].Axle {
			out = append(out, Pivot{List: Arms, Index: i, End: AxleEnd, Side: side, Sub: k})
		}
	}
	for i := range j.Rockers {
		out = append(out, Pivot{List: Rockers, Index: i, End: Centre})
		for k := range j.Rockers[i].Rods {
			out = append(out, Pivot{List: Rockers, Index: i, End: RockerEnd, Sub: k}, Pivot{List: Rockers, Index: i, End: FarEnd, Sub: k})
		}
	}
	for i := range j.Struts {
		both(Struts, i, j.Struts[i].Pair)
	}
	for i := range j.Stops {
		both(Stops, i, j.Stops[i].Pair)
	}
	for i := range j.Straps {
		both(Straps, i, j.Straps[i].Pair)
	}
	for i := range j.Lines {
		both(Lines, i, j.Lines[i].Pair)
	}
	for i := range j.Sensors {
		side := job.Single
		if j.Sensors[i].Pair {
			side = job.Left
		}
		for _, e := range sensorEnds {
			out = append(out, Pivot{List: Sensors, Index: i, End: e.end, Side: side})
		}
	}
	for _, p := range []Pivot{{List: Output}, {List: Bearing}, {List: Pinion, End: AxleEnd}} {
		if find(j, p) != nil {
			out = append(out, p)
		}
	}
	return out
}

// At is where the pivot stands at ride height, body axes (mirrored for the right twin); ok is false where the job has no such pivot.
func At(j *job.Job, p Pivot) (at r3.Vec, ok bool) {
	s := find(j, p)
	if s == nil {
		return r3.Vec{}, false
	}
	if s.mirrored(p) {
		return s.at.Mirror().Vec(), true
	}
	return s.at.Vec(), true
}

// Name is the pivot in words: "Panhard rod, frame end", "Lower left, axle end", "Pinion joint"; "" where there is no such pivot.
func Name(j *job.Job, p Pivot) string {
	if s := find(j, p); s != nil {
		return s.words(p)
	}
	return ""
}

// IsMeasured reports whether the pivot is there (measured), not planned.
func IsMeasured(j *job.Job, p Pivot) bool {
	s := find(j, p)
	return s != nil && s.isMeasured()
}

// SetMeasured marks a pivot measured, or frees it.
func SetMeasured(j *job.Job, p Pivot, measured bool) error {
	s := find(j, p)
	if s == nil {
		return errGone
	}
	s.setMeasured(measured)
	return nil
}

func setListed(list *[]string, key string, in bool) {
	has := slices.Contains(*list, key)
	switch {
	case in && !has:
		*list = append(*list, key)
		slices.Sort(*list)
	case !in && has:
		*list = slices.DeleteFunc(slices.Clone(*list), func(s string) bool { return s == key })
		if len(*list) == 0 {
			*list = nil
		}
	}
}

// IsPartMeasured is the same of a part in the way (Envelopes) or the axle (AxleTube, Housing).
func IsPartMeasured(j *job.Job, part Part) bool {
	m := partMeasured(j, part)
	return m != nil && *m != nil && **m
}

func partMeasured(j *job.Job, part Part) **bool {
	switch part.List {
	case Envelopes:
		if part.Index >= 0 && part.Index < len(j.Envelopes) {
			return &j.Envelopes[part.Index].Measured
		}
	case AxleTube, Housing:
		if j.Axle != nil {
			return &j.Axle.Measured
		}
	}
	return nil
}

// SetPartMeasured marks a part in the way (or the axle) measured, or frees it.
func SetPartMeasured(j *job.Job, part Part, measured bool) error {
	m := partMeasured(j, part)
	if m == nil {
		return errGone
	}
	*m = nil
	if measured {
		*m = &measured
	}
	return nil
}

// IsGuess reports whether a coordinate is a guess: its pivot is not measured and nobody gave the number.
func IsGuess(j *job.Job, p Pivot, a Axis) bool {
	s := find(j, p)
	if s == nil {
		return false
	}
	return !isGiven((*s.given)[s.key+"."+axisKeys[a]]) && !s.isMeasured()
}

// isGiven reports whether an entry gives a number: one that says only what to count it from or how far off it may be does not, and what its
// source calls a guess is one however it was typed.
func isGiven(g job.GivenValue) bool {
	return g.Source != GuessSource && (g.Typed != "" || g.Source != "")
}

// GivenOf is how a coordinate was given; ok is false where it is a guess, of which it may still tell what was typed and the +-. What was typed for
// the one twin reads as for the other.
func GivenOf(j *job.Job, p Pivot, a Axis) (g job.GivenValue, ok bool) {
	s := find(j, p)
	if s == nil {
		return job.GivenValue{}, false
	}
	g = (*s.given)[s.key+"."+axisKeys[a]]
	if a == Y && s.mirrored(p) {
		g.Typed = negated(g.Typed)
	}
	return g, isGiven(g)
}

// SetGiven sets datum, +- and source of a coordinate without moving it; plusMinus NaN leaves that out.
func SetGiven(j *job.Job, p Pivot, a Axis, from string, plusMinus float64, source string) error {
	s := find(j, p)
	if s == nil {
		return errGone
	}
	if plusMinus < 0 || math.IsInf(plusMinus, 0) {
		return words.Errorf("%s: the ± must be 0 or more.", s.words(p))
	}
	if source = strings.TrimSpace(source); len([]rune(source)) > longestSource {
		return words.Errorf("%s: the source is longer than %d letters. Say it shorter.", s.words(p), longestSource)
	}
	key := s.key + "." + axisKeys[a]
	g := (*s.given)[key]
	g.From, g.Source, g.PlusMinus = from, source, nil
	if !math.IsNaN(plusMinus) {
		g.PlusMinus = &plusMinus
	}
	setGiven(s.given, key, g)
	return nil
}

// setGiven writes an entry; an empty one is taken out.
func setGiven(given *job.Given, key string, g job.GivenValue) {
	if g == (job.GivenValue{}) {
		delete(*given, key)
		if len(*given) == 0 {
			*given = nil
		}
		return
	}
	if *given == nil {
		*given = job.Given{}
	}
	(*given)[key] = g
}

func coordinate(v r3.Vec, a Axis) float64 { return [3]float64{v.X, v.Y, v.Z}[a] }
