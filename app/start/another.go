package start

import (
	"math"
	"slices"

	"axleloft/app/words"
	"axleloft/geometry/job"
)

// The travel another layout is made for where the job bounds none, mm.
const (
	usualBump  = 100
	usualDroop = 110
)

// Another makes a trial of another layout on the vehicle of a job: its links, arms and rockers are new, every value a guess; axle, driveline, stops, straps,
// lines and what is in the way stay the job's. Struts and sensors stay where they are, but what stood on a link that is gone: such a strut gives way to one
// on the axle, such a sensor is led by the axle. bump and droop (mm, both positive, 0 not known) are what both wheels do now. What cannot be made is
// refused in a sentence.
func Another(j *job.Job, bump, droop float64, l Layout) (*job.Trial, error) {
	if int(l) >= len(Layouts()) {
		return nil, words.Errorf("Choose a layout first.")
	}
	if j.Vehicle == nil || j.Vehicle.Tyre == nil {
		return nil, words.Errorf("Give wheelbase, track and tyre first.")
	}
	v := j.Vehicle
	if !(bump > 0) {
		bump = usualBump
	}
	if !(droop > 0) {
		droop = usualDroop
	}
	in := func(v, lo, hi float64) float64 { return math.Max(lo, math.Min(hi, math.Floor(v))) }
	six := Six{Wheelbase: v.Wheelbase, Track: v.Track, Tyre: Tyre{LoadedRadius: v.Tyre.LoadedRadius, FreeRadius: v.Tyre.Free(), Width: v.Tyre.WidthOr0()}, Layout: l}
	var made *job.Job
	var first error
	for _, share := range []float64{1, 0.9, 0.8, 0.7, 0.6, 0.5} { // for as much travel as the layout goes
		six.Bump, six.Droop = in(share*bump, 20, math.Min(300, 0.6*six.Tyre.LoadedRadius)), in(share*droop, 20, 300)
		var err error
		if made, err = Make(six); err == nil {
			break
		}
		if first == nil {
			first = err
		}
	}
	if made == nil {
		return nil, words.Errorf("%s cannot be laid out on this vehicle: %w", Layouts()[l], first)
	}
	t := &job.Trial{
		Name:  Layouts()[l],
		Note:  words.F("Begun from a layout made for %.0f mm of bump and %.0f of droop. Every value of its links is a guess till it is measured.", six.Bump, six.Droop),
		Links: orNone(made.Links), Arms: orNone(made.Arms), Rockers: orNone(made.Rockers),
	}
	there := map[string]bool{"": true, "axle": true, "frame": true}
	for i := range t.Links {
		there[t.Links[i].Name] = true
	}
	for i := range t.Arms {
		there[t.Arms[i].Name] = true
	}
	t.Struts = strutsFor(j, made, there)
	t.Sensors = sensorsFor(j, there)
	return t, nil
}

// orNone is a list of its own, empty and not nil where there is nothing: none, not as drawn.
func orNone[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// strutsFor are the struts of a job where every one still has what it stands on (nil: as drawn), else those of the layout made in place of the ones that do not.
func strutsFor(j, made *job.Job, there map[string]bool) []job.Strut {
	gone := func(s job.Strut) bool { return !there[s.On] }
	if !slices.ContainsFunc(j.Struts, gone) {
		return nil
	}
	out := slices.DeleteFunc(j.Clone().Struts, gone)
	for _, s := range made.Struts {
		for taken := true; taken; {
			if taken = slices.ContainsFunc(out, func(o job.Strut) bool { return o.Name == s.Name }); taken {
				s.Name += words.T(" on the axle")
			}
		}
		out = append(out, s)
	}
	return orNone(out)
}

// sensorsFor are the sensors of a job, those on a link that is gone led by the axle; nil (as drawn) where there is none such.
func sensorsFor(j *job.Job, there map[string]bool) []job.Sensor {
	if !slices.ContainsFunc(j.Sensors, func(s job.Sensor) bool { return !there[s.On] }) {
		return nil
	}
	out := j.Clone().Sensors
	for i := range out {
		if !there[out[i].On] {
			out[i].On = ""
		}
	}
	return out
}

// Carriers adds the members of a trial to what carries the members of a job: a rail the old links hang on carries the new ones too. It changes the list given.
func Carriers(j *job.Job, t *job.Trial, list []job.Envelope) {
	names := func(links []job.Link, arms []job.Arm, rockers []job.Rocker) (out []string) {
		for i := range links {
			out = append(out, links[i].Name)
		}
		for i := range arms {
			out = append(out, arms[i].Name)
		}
		for i := range rockers {
			out = append(out, rockers[i].Name)
			for k := range rockers[i].Rods {
				out = append(out, rockers[i].Rods[k].Name)
			}
		}
		return out
	}
	before, after := names(j.Links, j.Arms, j.Rockers), names(t.Links, t.Arms, t.Rockers)
	for i := range list {
		e := &list[i]
		if !slices.ContainsFunc(e.Carries, func(n string) bool { return slices.Contains(before, n) }) {
			continue
		}
		e.Carries = slices.Clone(e.Carries)
		for _, n := range after {
			if !slices.Contains(e.Carries, n) {
				e.Carries = append(e.Carries, n)
			}
		}
	}
}
