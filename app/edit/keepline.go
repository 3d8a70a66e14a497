package edit

import (
	"math"
	"slices"

	"axleloft/app/words"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// A Way is the line a pivot is kept on, as the file calls it; the line runs through where the pivot stands.
type Way string

// The ways.
const (
	WayNone   Way = ""
	WayLevel  Way = "level" // at its height: free fore and aft and across
	WayUp     Way = "upright"
	WayAlong  Way = "fore-and-aft"
	WayAcross Way = "across"
	WayLink   Way = "link"  // along its member, as that lay when the line was chosen
	WayHoles  Way = "holes" // along its row of holes

	wayPinion Way = "pinion" // of no file: the height of the frame end that keeps the pinion
)

// Line is what a pivot is kept on.
type Line struct {
	Way   Way
	Level bool   // its height alone stays; Along is zero then
	Along r3.Vec // direction of length 1, body axes
}

// Words are the line in a sentence: "is kept ...".
func (l *Line) Words() string {
	switch l.Way {
	case WayLevel:
		return words.T("at its height")
	case WayUp:
		return words.T("on an upright line")
	case WayAlong:
		return words.T("on a line fore and aft")
	case WayAcross:
		return words.T("on a line across")
	case WayLink:
		return words.T("on the line its link lay on")
	case WayHoles:
		return words.T("on the line of its holes")
	}
	return words.T("at the height that keeps the pinion")
}

// keepWords is the keep as a fight says it.
func (l *Line) keepWords() string {
	if l.Way == wayPinion {
		return words.T("Keep pinion")
	}
	return words.T("Keep on line")
}

// lineAt is the entry of the file for the line a pivot is kept on, -1 where there is none.
func lineAt(j *job.Job, s *slot, p Pivot) int {
	if len(j.Keep) == 0 {
		return -1
	}
	name := PartName(j, PartOf(p))
	return slices.IndexFunc(j.Keep, func(k job.Keep) bool { return k.What == keepLine && k.Of == name && k.End == s.key })
}

// line is the line a pivot is kept on as the file gives the pivot (of a pair the left one).
func (s *slot) line(j *job.Job, p Pivot) (l Line, ok bool) {
	i := lineAt(j, s, p)
	if i < 0 {
		return Line{}, false
	}
	k := &j.Keep[i]
	l.Way = Way(k.Way)
	switch l.Way {
	case WayLevel:
		l.Level = true
	case WayUp:
		l.Along.Z = 1
	case WayAlong:
		l.Along.X = 1
	case WayAcross:
		l.Along.Y = 1
	default:
		if k.Along == nil || *k.Along == (job.Point{}) {
			return Line{}, false
		}
		l.Along = r3.Unit(k.Along.Vec())
	}
	return l, true
}

// KeptOn is the line a pivot is kept on, as the hand took it (a right twin's mirrored). The frame end whose height keeps the pinion stays at that height.
func KeptOn(j *job.Job, p Pivot) (l Line, ok bool) {
	s := find(j, p)
	if s == nil {
		return Line{}, false
	}
	if l, ok = s.line(j, p); ok {
		if s.mirrored(p) {
			l.Along.Y = 0 - l.Along.Y
		}
		return l, true
	}
	if givesHeight(j, p) {
		return Line{Way: wayPinion, Level: true}, true
	}
	return Line{}, false
}

// WayOf is the line chosen for a pivot; WayNone where none is.
func WayOf(j *job.Job, p Pivot) Way {
	if s := find(j, p); s != nil {
		if l, ok := s.line(j, p); ok {
			return l.Way
		}
	}
	return WayNone
}

// Ways lists the lines a pivot may be kept on.
func Ways(j *job.Job, p Pivot) []Way {
	out := []Way{WayLevel, WayUp, WayAlong, WayAcross}
	if a, b, ok := Ends(j, p); ok && r3.Norm(r3.Sub(b, a)) > shortest {
		out = append(out, WayLink)
	}
	if len(Holes(j, p)) > 1 {
		out = append(out, WayHoles)
	}
	return out
}

// SetKeepLine keeps a pivot on a line through where it stands; WayNone leaves the line.
func SetKeepLine(j *job.Job, p Pivot, way Way) error {
	s := find(j, p)
	if s == nil {
		return errGone
	}
	k := job.Keep{What: keepLine, Of: PartName(j, PartOf(p)), End: s.key, Way: string(way)}
	at, _ := At(j, p)
	var along r3.Vec
	switch way {
	case WayNone, WayLevel, WayUp, WayAlong, WayAcross:
	case WayLink:
		a, b, ok := Ends(j, p)
		if along = r3.Sub(b, a); !ok || r3.Norm(along) < shortest {
			return words.Errorf("%s has no line to another pivot. Choose another line.", s.words(p))
		}
	case WayHoles:
		list := Holes(j, p)
		if len(list) < 2 {
			return words.Errorf("%s has no row of holes. Give it one, or choose another line.", s.words(p))
		}
		along = r3.Unit(r3.Sub(list[len(list)-1], list[0]))
		for _, h := range append([]r3.Vec{at}, list...) {
			off := r3.Sub(h, list[0])
			if off = r3.Sub(off, r3.Scale(r3.Dot(off, along), along)); r3.Norm(off) > holeNear {
				return words.Errorf("%s does not stand in line with its holes: it is %s off. Drag it into one of them first.", s.words(p), workedOut(j, r3.Norm(off)))
			}
		}
	default:
		return words.Errorf("%s cannot be kept that way. Choose another line.", s.words(p))
	}
	if along != (r3.Vec{}) {
		if s.mirrored(p) {
			along.Y = 0 - along.Y
		}
		along = r3.Unit(along)
		k.Along = &job.Point{tidyDirection(along.X), tidyDirection(along.Y), tidyDirection(along.Z)}
	}
	j.Keep = slices.Clone(j.Keep)
	i := lineAt(j, s, p)
	switch {
	case way == WayNone && i >= 0:
		j.Keep = slices.Delete(j.Keep, i, i+1)
	case way == WayNone:
	case i >= 0:
		j.Keep[i] = k
	default:
		j.Keep = append(j.Keep, k)
	}
	tidyKeep(j)
	return nil
}

// tidyDirection keeps a part of a direction to 1e-9, so that files stay short.
func tidyDirection(v float64) float64 { return math.Round(v*1e9)/1e9 + 0 }

// hold leads a place onto the line through where the pivot stood: one coordinate asked for stays as asked and the others follow; of several, the nearest
// place as they tell it. asked tells afterwards which coordinates go.
func (l *Line) hold(old, want job.Point, asked *[3]bool) (job.Point, error) {
	n := 0
	for _, a := range asked {
		if a {
			n++
		}
	}
	if n == 0 {
		return want, nil
	}
	if l.Level {
		if n == 1 && asked[Z] {
			return want, l.off()
		}
		want[Z], asked[Z] = old[Z], false
		return want, nil
	}
	d := [3]float64{l.Along.X, l.Along.Y, l.Along.Z}
	by, seen := 0.0, 0.0
	for a := range d {
		if asked[a] {
			by += d[a] * (want[a] - old[a])
			seen += d[a] * d[a]
		}
	}
	if seen < leastLead*leastLead {
		return want, l.off()
	}
	t := by / seen
	out, off := old, 0.0
	for a := range d {
		if d[a] != 0 {
			out[a] = math.Round((old[a]+t*d[a])*decimals) / decimals
			if n == 1 && asked[a] {
				out[a] = want[a]
			}
		}
		off = max(off, math.Abs(out[a]-want[a]))
	}
	if off < lineTol { // it lies on the line already, to the digits places are kept to
		out = want
	}
	for a := range asked {
		asked[a] = math.Abs(out[a]-old[a]) > stillTol
	}
	return out, nil
}

// off is the refusal of a move across the line.
func (l *Line) off() error {
	if l.Way == wayPinion {
		return words.Errorf("its height keeps the pinion and goes by itself. Press Keep and leave the pinion to move it.")
	}
	return words.Errorf("it is kept %s, and that would leave it. Press Keep again to leave the line.", l.Words())
}
