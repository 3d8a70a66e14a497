package document

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"axleloft/app/start"
	"axleloft/app/words"
	"axleloft/geometry/job"
)

// reserved names mean something else on the screen.
var reserved = []string{AsItWas, "as drawn"}

// Trials lists the kept trials by name.
func (d *Document) Trials() []string {
	var out []string
	for i := range d.whole.Trials {
		out = append(out, d.whole.Trials[i].Name)
	}
	return out
}

// Trial is the chosen trial, "" for the job as drawn.
func (d *Document) Trial() string { return d.trial }

// SetTrial chooses a trial; "" is the job as drawn.
func (d *Document) SetTrial(name string) error {
	d.Commit()
	if name != "" && d.trialAt(name) < 0 {
		return noTrial(name)
	}
	if name != d.trial {
		d.show(d.whole, name)
	}
	return nil
}

func (d *Document) trialAt(name string) int {
	return slices.IndexFunc(d.whole.Trials, func(t job.Trial) bool { return t.Name == name })
}

func noTrial(name string) error {
	return words.Errorf("There is no trial called %q any more.", name)
}

// trialName trims a trial's name and refuses one that is taken or means something else; an empty one becomes "trial 2" or the like.
func (d *Document) trialName(name string, but int) (string, error) {
	name = strings.TrimSpace(name)
	taken := func(n string) bool {
		for i := range d.whole.Trials {
			if i != but && strings.EqualFold(d.whole.Trials[i].Name, n) {
				return true
			}
		}
		return slices.ContainsFunc(reserved, func(r string) bool { return strings.EqualFold(r, n) })
	}
	if name == "" {
		for n := 1; name == ""; n++ {
			if try := words.F("trial %d", n); !taken(try) {
				name = try
			}
		}
	}
	if taken(name) {
		return "", words.Errorf("A trial cannot be called %q: that name is taken. Type another one.", name)
	}
	return name, nil
}

// KeepTrial keeps the present state as a new trial and chooses it; undoable. An empty name takes a free one.
// The new trial has the axle, the driveline and every member as they stand; vehicle and what is in the way stay the job's till the trial changes them.
func (d *Document) KeepTrial(name string) error {
	d.Commit()
	name, err := d.trialName(name, -1)
	if err != nil {
		return err
	}
	t := job.Trial{Name: name}
	if i := d.trialAt(d.trial); d.trial != "" && i >= 0 {
		t = d.whole.Clone().Trials[i]
		t.Name = name
	}
	next := *d.whole
	next.Trials = append(slices.Clone(d.whole.Trials), t)
	if d.trial == "" { // the layout as it stands now; vehicle and what is in the way stay the job's till the trial changes them
		c := d.whole.Clone()
		next.Trials[len(next.Trials)-1] = job.Trial{Name: name, Axle: c.Axle, Driveline: c.Driveline, Links: c.Links, Arms: c.Arms,
			Rockers: c.Rockers, Struts: c.Struts, Stops: c.Stops, Straps: c.Straps, Lines: c.Lines, Sensors: c.Sensors}
	}
	return d.trialStep(words.F("keep %s", name), &next, name)
}

// KeepChanges keeps the present state as a new trial, chooses it, and puts the drawing itself back to what it was when the job was opened or last
// saved; one undoable step. It is refused while a trial is chosen and where nothing was changed.
func (d *Document) KeepChanges(name string) error {
	d.Commit()
	if d.trial != "" {
		return words.Error("A trial is chosen: what you move goes into it already. Choose the job as drawn first.")
	}
	was := d.saved
	if was == nil {
		was = d.opened
	}
	name, err := d.trialName(name, -1)
	if err != nil {
		return err
	}
	now, old := d.whole.Clone(), was.Clone()
	next := *now
	next.Axle, next.Driveline, next.Links, next.Arms, next.Rockers = old.Axle, old.Driveline, old.Links, old.Arms, old.Rockers
	next.Struts, next.Stops, next.Straps, next.Lines, next.Sensors = old.Struts, old.Stops, old.Straps, old.Lines, old.Sensors
	if reflect.DeepEqual(&next, now) {
		return words.Error("Nothing has been moved since the job was opened or saved, so there is nothing to keep apart.")
	}
	next.Trials = append(slices.Clone(now.Trials), job.Trial{Name: name, Axle: now.Axle, Driveline: now.Driveline, Links: now.Links, Arms: now.Arms,
		Rockers: now.Rockers, Struts: now.Struts, Stops: now.Stops, Straps: now.Straps, Lines: now.Lines, Sensors: now.Sensors})
	return d.trialStep(words.F("keep %s", name), &next, name)
}

// trialStep makes a step of a whole job with another choice of trial.
func (d *Document) trialStep(label string, next *job.Job, choose string) error {
	if err := refuse(d.whole, next); err != nil {
		return err
	}
	d.take(step{label: label, before: d.whole, after: next, trialBefore: d.trial, trialAfter: choose})
	return nil
}

// AddLayout takes a trial of another layout in and chooses it; one undoable step. Its name gets a number where it is taken. What carries the job's links carries
// the trial's too.
func (d *Document) AddLayout(t *job.Trial) error {
	d.Commit()
	k := *t
	name, err := d.trialName(k.Name, -1)
	for n := 2; err != nil && n < 1000; n++ {
		name, err = d.trialName(fmt.Sprintf("%s %d", k.Name, n), -1)
	}
	if err != nil {
		return err
	}
	k.Name = name
	next := *d.whole
	next.Trials = append(slices.Clone(d.whole.Trials), k)
	next.Envelopes = slices.Clone(d.whole.Envelopes)
	start.Carriers(d.current, &k, next.Envelopes)
	return d.trialStep(words.F("new trial: %s", name), &next, name)
}

// JobOf is the job as a trial has it, "" as drawn, in the shown unit: a copy of one's own.
func (d *Document) JobOf(trial string) (*job.Job, error) {
	j, err := d.whole.WithTrial(trial)
	if err != nil {
		return nil, noTrial(trial)
	}
	return d.placed(shownIn(asideIn(j, trial), d.unit)), nil
}

// RemoveTrial drops a trial; undoable.
func (d *Document) RemoveTrial(name string) error {
	d.Commit()
	i := d.trialAt(name)
	if i < 0 {
		return noTrial(name)
	}
	next := *d.whole
	next.Trials = slices.Delete(slices.Clone(d.whole.Trials), i, i+1)
	if len(next.Trials) == 0 {
		next.Trials = nil
	}
	next.SetAside = slices.DeleteFunc(slices.Clone(d.whole.SetAside), func(a job.SetAside) bool { return a.Trial == name })
	if len(next.SetAside) == 0 {
		next.SetAside = nil
	}
	choose := d.trial
	if choose == name {
		choose = ""
	}
	return d.trialStep(words.F("remove %s", name), &next, choose)
}

// RenameTrial renames one; undoable.
func (d *Document) RenameTrial(old, name string) error {
	d.Commit()
	i := d.trialAt(old)
	if i < 0 {
		return noTrial(old)
	}
	if strings.TrimSpace(name) == "" {
		return words.Errorf("A name is missing. Type what the trial is called.")
	}
	name, err := d.trialName(name, i)
	if err != nil || name == old {
		return err
	}
	next := *d.whole
	next.Trials = slices.Clone(d.whole.Trials)
	next.Trials[i].Name = name
	next.SetAside = slices.Clone(d.whole.SetAside)
	for k := range next.SetAside {
		if next.SetAside[k].Trial == old {
			next.SetAside[k].Trial = name
		}
	}
	choose := d.trial
	if choose == old {
		choose = name
	}
	return d.trialStep(words.F("rename %s", old), &next, choose)
}

// TakeOver makes the trial the job as drawn and chooses that; the trial stays. Undoable.
func (d *Document) TakeOver(name string) error {
	d.Commit()
	if d.trialAt(name) < 0 {
		return noTrial(name)
	}
	next, err := d.whole.WithTrial(name)
	if err != nil {
		return err
	}
	next.Trials = d.whole.Trials
	next.Tidy()
	return d.trialStep(words.F("take over %s", name), next, "")
}

// asideIn leaves of a trial's job (a copy) only what was set aside in that trial: what may be set aside in one geometry need not be in another.
func asideIn(j *job.Job, trial string) *job.Job {
	j.SetAside = slices.DeleteFunc(j.SetAside, func(a job.SetAside) bool { return a.Trial != trial })
	if len(j.SetAside) == 0 {
		j.SetAside = nil
	}
	return j
}
