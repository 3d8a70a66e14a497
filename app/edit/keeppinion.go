package edit

import (
	"math"
	"slices"

	"axleloft/app/words"
	"axleloft/geometry/job"
)

// FarthestHeight is how far the frame end that keeps the pinion may go up or down for one move, mm (our choice: no bracket is moved by more).
const FarthestHeight = 150.0

// PinionKeep is what keeps the pinion: the link whose frame end goes up or down, and the two travels of both wheels between which the change counts.
type PinionKeep struct {
	Link     int
	From, To float64  // mm, bump positive
	Value    *float64 // deg, nose up from the first travel to the second; nil: not worked out yet
}

func pinionAt(j *job.Job) int {
	return slices.IndexFunc(j.Keep, func(k job.Keep) bool { return k.What == keepPinion })
}

// KeptPinion is how the pinion's change is kept; ok is false where it is not, or where the job as it stands has no such link.
func KeptPinion(j *job.Job) (k PinionKeep, ok bool) {
	i := pinionAt(j)
	if i < 0 || j.Keep[i].From == nil || j.Keep[i].To == nil {
		return k, false
	}
	link := slices.IndexFunc(j.Links, func(l job.Link) bool { return l.Name == j.Keep[i].Of })
	if link < 0 {
		return k, false
	}
	return PinionKeep{link, *j.Keep[i].From, *j.Keep[i].To, j.Keep[i].Value}, true
}

// SetKeepPinion keeps the pinion's change between two travels of both wheels, mm, by the height of a link's frame end. What the change is (SetPinionValue)
// whoever has a solver fills in.
func SetKeepPinion(j *job.Job, link int, from, to float64) error {
	if link < 0 || link >= len(j.Links) {
		return errGone
	}
	if !(math.Abs(to-from) >= 1) {
		return words.Errorf("The pinion's change counts between two heights at least 1 mm apart. Choose two others.")
	}
	LeavePinion(j)
	from, to = tidy(from), tidy(to)
	j.Keep = append(j.Keep, job.Keep{What: keepPinion, Of: j.Links[link].Name, From: &from, To: &to})
	return nil
}

// SetPinionValue notes what the change kept is, deg.
func SetPinionValue(j *job.Job, deg float64) {
	if i := pinionAt(j); i >= 0 {
		deg = math.Round(deg*1e9) / 1e9
		j.Keep = slices.Clone(j.Keep)
		j.Keep[i].Value = &deg
	}
}

// LeavePinion keeps the pinion no more.
func LeavePinion(j *job.Job) {
	j.Keep = slices.DeleteFunc(slices.Clone(j.Keep), func(k job.Keep) bool { return k.What == keepPinion })
	tidyKeep(j)
}

// givesHeight reports whether a pivot is the frame end whose height keeps the pinion.
func givesHeight(j *job.Job, p Pivot) bool {
	if p.List != Links || p.End != FrameEnd || len(j.Keep) == 0 {
		return false
	}
	k, ok := KeptPinion(j)
	return ok && k.Link == p.Index
}

// GiveHeight sets the frame end that keeps the pinion up by so many mm. Where something else kept, or a measured place, does not let it, the error is a
// *Fight and nothing is moved.
func GiveHeight(j *job.Job, link int, up float64) error {
	p := Pivot{List: Links, Index: link, End: FrameEnd}
	s := find(j, p)
	if s == nil {
		return errGone
	}
	pinion := words.T("Keep pinion")
	goes := words.F("For the pinion it would have to go %s.", upOrDown(j, up))
	if s.isMeasured() {
		return fight(s.words(p), pinion, words.T("its measured place"), goes)
	}
	if l, ok := s.line(j, p); ok && (l.Level || math.Abs(l.Along.Z) < 1-1e-9) {
		return fight(s.words(p), pinion, l.keepWords(), goes)
	}
	k := &j.Links[link]
	was := LinkLength(j, link)
	to := k.Frame
	to[Z] = math.Round((to[Z]+up)*decimals) / decimals
	old := k.Frame
	k.Frame = to
	if longer := LinkLength(j, link) - was; KeepsLength(j, link) && math.Abs(longer) >= lengthTol {
		k.Frame = old
		return fight(s.words(p), pinion, words.T("Keep length"), goes+" "+words.F("The link would be %s.", longerOrShorter(j, longer)))
	}
	if to != old {
		setGiven(s.given, s.key+"."+axisKeys[Z], job.GivenValue{})
	}
	return nil
}
