package edit

import (
	"math"

	"axleloft/app/words"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	restoodTol   = 1e-7 // mm: places that move less between two rounds stand still
	restoodMost  = 80   // rounds: the axle hangs by links that are being placed
	restoodStale = 0.01 // mm: places nearer to where their numbers put them count as being there
)

// Restood is what working places out again did.
type Restood struct {
	Moved  int // pivots and datums that moved, in the job and its trials; twins once
	Stayed int // those that stand where they stood
	With   int // numbers counted from datums among them that moved along
}

// Words say how much moved: "Places measured so: 4. All moved with it."
func (r Restood) Words() string {
	out := ""
	switch {
	case r.Moved == 0 && r.Stayed == 0:
		return words.T("Nothing is measured so yet.")
	case r.Moved == 0:
		out = words.F("Places measured so: %d. All stand where they stood.", r.Stayed)
	case r.Stayed == 0:
		out = words.F("Places measured so: %d. All moved with it.", r.Moved)
	default:
		out = words.F("Places measured so that moved with it: %d; that stand where they stood: %d.", r.Moved, r.Stayed)
	}
	if r.With > 0 {
		out += " " + words.F("Numbers counted from them that moved along: %d.", r.With)
	}
	return out
}

// Restand works out again every pivot, and over the floor every datum, measured that way, in the job and in its trials, measured or not, from the numbers as typed. Where the axle hangs by
// links some of whose pivots are being placed so, it goes on till both agree.
func Restand(j *job.Job, how string, hang Hang) (Restood, error) {
	var out Restood
	if how == OnFloor {
		if err := restandDatums(j, &out); err != nil {
			return out, err
		}
	}
	for i, k := range withTrials(j) {
		list := StoodPivots(k, how)
		if len(list) == 0 {
			continue
		}
		was := make([]job.Point, len(list))
		for n, p := range list {
			was[n] = *find(k, p).at
		}
		whole := func() (*job.Job, error) {
			if i == 0 {
				return j, nil
			}
			return j.WithTrial(j.Trials[i-1].Name)
		}
		for round := 0; ; round++ {
			full, err := whole()
			if err != nil {
				return out, err
			}
			worst, err := restandOnce(full, k, how, list, hang)
			if err != nil {
				return out, err
			}
			if worst <= restoodTol || how != Hanging {
				break
			}
			if round == restoodMost {
				return out, words.Error("Where the axle hangs and where these pivots sit depend on each other, and they do not settle. Choose the tube's two ends to tell where it hung.")
			}
		}
		for n, p := range list {
			if r3.Norm(r3.Sub(was[n].Vec(), find(k, p).at.Vec())) > restoodTol {
				out.Moved++
			} else {
				out.Stayed++
			}
		}
	}
	if out.Moved > 0 {
		rekeep(j)
	}
	return out, nil
}

// restandOnce puts the pivots of a list in k where their numbers come to with the whole job as it stands, and tells by how much the farthest moved.
func restandOnce(full, k *job.Job, how string, list []Pivot, hang Hang) (worst float64, err error) {
	s, err := standOf(full, how, hang)
	if err != nil {
		return 0, err
	}
	for _, p := range list {
		if err := tellsItself(full, p, how); err != nil {
			return 0, err
		}
		slot := find(k, p)
		t := takenOf(slot, how)
		at, off, err := s.read(full, textOf(t))
		if err != nil {
			return 0, words.Errorf("%s: %w", slot.words(p), err)
		}
		to := s.ToRide(at)
		if math.IsNaN(to.X+to.Y+to.Z) || r3.Norm(to) > farthest {
			return 0, words.Errorf("%s would be more than 100 m from the axle. Check its three numbers.", slot.words(p))
		}
		worst = math.Max(worst, slot.restand(p, how, rounded(to), s.PlusMinus(at, off, s.others)))
		if slot.pair && slot.at[1] <= 0 {
			return 0, words.Errorf("%s would cross the middle of the vehicle: its twin is its mirror. Unlink the pair first.", slot.words(p))
		}
	}
	return worst, nil
}

// restand moves those coordinates of a pivot that still hold what they were worked out from.
func (s *slot) restand(p Pivot, how string, to, off r3.Vec) (moved float64) {
	want := job.Point{to.X, to.Y, to.Z}
	if s.mirrored(p) {
		want = want.Mirror()
	}
	for a, key := range axisKeys {
		g := (*s.given)[s.key+"."+key]
		if g.Taken == nil || g.Taken.How != how {
			continue
		}
		moved = math.Max(moved, math.Abs(want[a]-s.at[a]))
		s.at[a] = want[a]
		v := roundedUp(coordinate(off, Axis(a)))
		g.PlusMinus = &v
		setGiven(s.given, s.key+"."+key, g)
	}
	return moved
}

// AnyStood reports whether anything is measured that way.
func AnyStood(j *job.Job, how string) bool {
	if how == OnFloor && len(StoodDatums(j)) > 0 {
		return true
	}
	for _, k := range withTrials(j) {
		if len(StoodPivots(k, how)) > 0 {
			return true
		}
	}
	return false
}

// Astray is how many pivots and datums measured that way stand elsewhere than their numbers say, since the pinion, the tyre, a datum or the links have
// changed, and by how much the worst, mm. An error says why it cannot be told.
func Astray(j *job.Job, how string, hang Hang) (n int, worst float64, err error) {
	c := *j
	c.Trials = nil
	if !AnyStood(&c, how) {
		return 0, 0, nil
	}
	now := c.Clone()
	if _, err := Restand(now, how, hang); err != nil {
		return 0, 0, err
	}
	count := func(a, b r3.Vec) {
		if d := r3.Norm(r3.Sub(a, b)); d > restoodStale {
			n++
			worst = math.Max(worst, d)
		}
	}
	for _, p := range StoodPivots(j, how) {
		count(find(now, p).at.Vec(), find(j, p).at.Vec())
	}
	if how == OnFloor {
		for _, name := range StoodDatums(j) {
			a, _ := DatumPlace(now, name)
			b, _ := DatumPlace(j, name)
			count(a, b)
		}
	}
	return n, worst, nil
}

// renameStood gives a datum its new name where places or the floor are measured from it.
func renameStood(j *job.Job, was, now string) {
	if j.Stood != nil && j.Stood.Floor != nil && j.Stood.Floor.Datum == was {
		j.Stood.Floor.Datum = now
	}
	for _, k := range withTrials(j) {
		for _, p := range Pivots(k) {
			s := find(k, p)
			for _, a := range axisKeys {
				if t := (*s.given)[s.key+"."+a].Taken; t != nil {
					for i := range t.From {
						if t.From[i] == was {
							t.From[i] = now
						}
					}
				}
			}
		}
	}
}

// stoodFrom tells in words what is measured from a datum, axle or body standing otherwise; "" where nothing is.
func stoodFrom(j *job.Job, name string) string {
	if j.Stood != nil && j.Stood.Floor != nil && j.Stood.Floor.Datum == name {
		return words.F("The floor's marks are measured from %s. Choose another datum there first.", name)
	}
	for _, k := range withTrials(j) {
		for _, p := range StoodPivots(k, Hanging) {
			for _, from := range takenOf(find(k, p), Hanging).From {
				if from == name {
					return words.F("%s was measured from %s as the axle hung. Place it in another way first.", Name(k, p), name)
				}
			}
		}
	}
	return ""
}

// unlinkStood leaves what a pivot was worked out from with the one of an unlinked pair it was measured on; the other keeps place, +- and source.
func unlinkStood(given *job.Given, right bool) {
	for key, g := range *given {
		switch {
		case g.Taken == nil:
			continue
		case (g.Taken.Side == "right") != right:
			g.Taken = nil
		case right:
			own := *g.Taken
			own.Side = ""
			g.Taken = &own
		}
		setGiven(given, key, g)
	}
}

// linkStood says that the pair's entry holds what was measured on its right twin.
func linkStood(given *job.Given) {
	for key, g := range *given {
		if g.Taken != nil {
			own := *g.Taken
			own.Side = "right"
			g.Taken = &own
			setGiven(given, key, g)
		}
	}
}

// StoodWhy is what is still missing to tell how something stood, a sentence; nil where nothing is.
func StoodWhy(j *job.Job, how string, hang Hang) error {
	_, err := standOf(j, how, hang)
	return err
}
