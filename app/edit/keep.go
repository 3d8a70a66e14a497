package edit

import (
	"math"
	"slices"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// What the file calls the things kept.
const (
	keepLength = "length"
	keepLine   = "line"
	keepPinion = "pinion"
)

const (
	lengthTol = 1e-3 // mm: a length kept that would change less is kept
	lineTol   = 1e-5 // mm: a place off its line by less lies on it
	leastLead = 0.01 // of a line's direction: along an axis of which it has less, nothing is led
)

// Fight is the refusal of what two keeps, or a keep and a measured place, cannot both hold for.
type Fight struct {
	Keeps [2]string // which two, as the screen says them
	text  string
}

// Error is a plain sentence: which two fight, by how much, and what to do.
func (f *Fight) Error() string { return f.text }

// fight makes one: whose pivot it is, the two, and by how much they cannot both be had.
func fight(whose, one, other, much string) error {
	return &Fight{[2]string{one, other}, words.F("%s: %s and %s fight. %s Press Keep and leave one of the two.", whose, one, other, much)}
}

// workedOut is a length nobody typed, with its unit.
func workedOut(j *job.Job, mm float64) string { return showWorkedOut(j, mm) + " " + shownLength(j) }

// tidyKeep leaves no empty list in the file.
func tidyKeep(j *job.Job) {
	if len(j.Keep) == 0 {
		j.Keep = nil
	}
}

// led leads a wanted place to where what is kept lets the pivot go; asked tells which coordinates were asked to move. Where two keeps cannot both hold
// the error is a *Fight. Places are as the file gives the pivot.
func (s *slot) led(j *job.Job, p Pivot, want job.Point, asked [3]bool) (job.Point, error) {
	if asked == [3]bool{} {
		return want, nil
	}
	l, on := s.line(j, p)
	gives := givesHeight(j, p)
	if !on && gives {
		l, on = Line{Way: wayPinion, Level: true}, true
	}
	if on {
		var err error
		if want, err = l.hold(*s.at, want, &asked); err != nil {
			return want, words.Errorf("%s: %w", s.words(p), err)
		}
		if up := want[Z] - s.at[Z]; gives && math.Abs(up) > stillTol {
			return want, fight(s.words(p), l.keepWords(), words.T("Keep pinion"), words.F("The line would take it %s, and its height is the pinion's.", upOrDown(j, up)))
		}
	}
	if p.List != Links || !KeepsLength(j, p.Index) || asked == [3]bool{} {
		return want, nil
	}
	k := &j.Links[p.Index]
	other := k.Axle
	if p.End == AxleEnd {
		other = k.Frame
	}
	length := r3.Norm(r3.Sub(s.at.Vec(), other.Vec()))
	longer := r3.Norm(r3.Sub(want.Vec(), other.Vec())) - length
	if on && !l.Level {
		if math.Abs(longer) < lengthTol {
			return want, nil
		}
		much := words.F("There the link would be %s, and it keeps %s; on its line it has that length only here.", longerOrShorter(j, longer), workedOut(j, length))
		if also := -2 * r3.Dot(l.Along, r3.Sub(s.at.Vec(), other.Vec())); math.Abs(also) > 1 {
			much = words.F("There the link would be %s, and it keeps %s; on its line it has that length only here and %s along it.", longerOrShorter(j, longer), workedOut(j, length), workedOut(j, math.Abs(also)))
		}
		return want, fight(s.words(p), words.T("Keep length"), l.keepWords(), much)
	}
	led, err := onCircle(*s.at, want, other, asked, on)
	switch {
	case err != nil && on:
		return want, fight(s.words(p), words.T("Keep length"), l.keepWords(), words.F("There the link would be %s, and it keeps %s.", longerOrShorter(j, longer), workedOut(j, length)))
	case err != nil:
		return want, words.Errorf("%s: %w", s.words(p), err)
	}
	return led, nil
}

func upOrDown(j *job.Job, up float64) string {
	if up < 0 {
		return words.F("%s down", workedOut(j, -up))
	}
	return words.F("%s up", workedOut(j, up))
}

func longerOrShorter(j *job.Job, longer float64) string {
	if longer < 0 {
		return words.F("%s shorter", workedOut(j, -longer))
	}
	return words.F("%s longer", workedOut(j, longer))
}

// onCircle leads want back to the distance between old and other. One coordinate asked for stays as asked and the other two follow;
// two asked for follow in their plane; three, in space. At its height, the height never follows.
func onCircle(old, want, other job.Point, asked [3]bool, level bool) (job.Point, error) {
	length := r3.Norm(r3.Sub(old.Vec(), other.Vec()))
	n := 0
	for _, a := range asked {
		if a {
			n++
		}
	}
	var free [3]bool // coordinates that may be led
	for a := range free {
		free[a] = asked[a] != (n == 1) && !(level && a == int(Z))
	}
	rest, reach := length*length, 0.0
	var d [3]float64
	for a := range free {
		d[a] = want[a] - other[a]
		if free[a] {
			reach += d[a] * d[a]
		} else {
			rest -= d[a] * d[a]
		}
	}
	if rest < 0 || reach == 0 {
		return want, words.Errorf("with the length kept at %.0f mm it cannot reach there. Leave the length (Keep) or move it less.", length)
	}
	f := math.Sqrt(rest / reach)
	for a := range free {
		if free[a] {
			want[a] = other[a] + math.Round(d[a]*f*decimals)/decimals
		}
	}
	return want, nil
}

// KeepsLength reports whether the link of that entry keeps its length while its pivots are moved.
func KeepsLength(j *job.Job, link int) bool { return lengthAt(j, link) >= 0 }

func lengthAt(j *job.Job, link int) int {
	if link < 0 || link >= len(j.Links) {
		return -1
	}
	return slices.IndexFunc(j.Keep, func(k job.Keep) bool { return k.What == keepLength && k.Of == j.Links[link].Name })
}

// SetKeepLength turns that on or off.
func SetKeepLength(j *job.Job, link int, keep bool) error {
	if link < 0 || link >= len(j.Links) {
		return errGone
	}
	i := lengthAt(j, link)
	j.Keep = slices.Clone(j.Keep)
	switch {
	case keep && i < 0:
		length := math.Round(LinkLength(j, link)*decimals) / decimals
		j.Keep = append(j.Keep, job.Keep{What: keepLength, Of: j.Links[link].Name, Value: &length})
	case !keep && i >= 0:
		j.Keep = slices.Delete(j.Keep, i, i+1)
	}
	tidyKeep(j)
	return nil
}

// LeaveKeep leaves all that is kept of a pivot: its line, its link's length, and the pinion where its height keeps that.
func LeaveKeep(j *job.Job, p Pivot) error {
	if err := SetKeepLine(j, p, WayNone); err != nil {
		return err
	}
	if p.List == Links {
		if err := SetKeepLength(j, p.Index, false); err != nil {
			return err
		}
	}
	if givesHeight(j, p) {
		LeavePinion(j)
	}
	return nil
}

// KeepWords are what is kept of a pivot, short, as the button says it: "length", "level", "pinion"; none where nothing is.
func KeepWords(j *job.Job, p Pivot) []string {
	var out []string
	if p.List == Links && KeepsLength(j, p.Index) {
		out = append(out, words.T("length"))
	}
	switch WayOf(j, p) {
	case WayLevel:
		out = append(out, words.T("level"))
	case WayNone:
	default:
		out = append(out, words.T("on line"))
	}
	if givesHeight(j, p) {
		out = append(out, words.T("pinion"))
	}
	return out
}

// keepsGo takes out what was kept of a part that goes.
func keepsGo(j *job.Job, name string) {
	j.Keep = slices.DeleteFunc(slices.Clone(j.Keep), func(k job.Keep) bool { return k.Of == name })
	tidyKeep(j)
}

// keepsApart gives each of two twins unlinked what was kept of the pair. The pinion is kept by both ends of a pair going alike, and no longer is.
func keepsApart(j *job.Job, name string) {
	var out []job.Keep
	for _, k := range j.Keep {
		if k.Of != name {
			out = append(out, k)
			continue
		}
		if k.What == keepPinion {
			continue
		}
		k.Of = name + " left"
		out = append(out, k)
		k.Of = name + " right"
		if k.Along != nil {
			to := k.Along.Mirror()
			k.Along = &to
		}
		out = append(out, k)
	}
	j.Keep = out
	tidyKeep(j)
}

// keepsJoin gives a pair linked again what was kept of the twin whose places it takes; mirror: that was the right one.
func keepsJoin(j *job.Job, kept, gone, bare string, mirror bool) {
	var out []job.Keep
	for _, k := range j.Keep {
		if k.Of == gone {
			continue
		}
		if k.Of == kept {
			if k.Of = bare; mirror && k.Along != nil {
				to := k.Along.Mirror()
				k.Along = &to
			}
		}
		out = append(out, k)
	}
	j.Keep = out
	tidyKeep(j)
}

// stands refuses where a pivot that was put at a place was led away from it by what is kept.
func (s *slot) stands(j *job.Job, p Pivot, at r3.Vec) error {
	if now, _ := At(j, p); r3.Norm(r3.Sub(now, at)) > lineTol {
		return words.Errorf("%s: what is kept of it (%s) would be lost there. Press Keep and leave that first.", s.words(p), strings.Join(KeepWords(j, p), ", "))
	}
	return nil
}
