package document

import (
	"reflect"
	"slices"

	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/job"
)

// AsItWas is the pencil line of the geometry at the moment AddPencil was called.
const AsItWas = "as it was"

// MostPencils is how many pencil lines there can be at once.
const MostPencils = 4

// Pencil is a pencil line as it stands: a trial, the job as drawn or the geometry as it was, drawn grey behind the live one.
type Pencil struct {
	Name  string          // of the trial, "" the job as drawn, AsItWas
	Place int             // 0 to MostPencils-1, its own as long as it stands: lines of different places are dashed out of step
	Study *study.Study    // its newest study, compiled only at first
	At    *study.Position // its axle at the present travels
}

// Words is what the screen calls it.
func (p Pencil) Words() string {
	switch p.Name {
	case "":
		return words.T("as drawn")
	case AsItWas:
		return words.T("as it was")
	}
	return p.Name
}

// pencil is a pencil line.
type pencil struct {
	name  string
	slot  int // Pencil.Place
	job   *job.Job
	gen   uint64 // no two pencil lines have the same
	now   *study.Study
	study *study.Study // nil till it is worked out
	at    *study.Position
	place [2]float64
}

// AddPencil draws a trial ("" the job as drawn, AsItWas the present geometry, kept) as a pencil line beside those there are; one that is drawn already is
// drawn as it now stands. A fifth is refused.
func (d *Document) AddPencil(name string) error {
	p := &pencil{name: name}
	if name == AsItWas {
		p.job = d.current
	} else {
		j, err := d.whole.WithTrial(name)
		if err != nil {
			return noTrial(name)
		}
		p.job = d.placed(j)
	}
	i := d.pencilAt(name)
	if i < 0 {
		if len(d.pencils) == MostPencils {
			return words.Errorf("There are %d pencil lines already, and no more than that can be told apart. Take one away first.", MostPencils)
		}
		i = len(d.pencils)
		p.slot = d.freeSlot()
		d.pencils = append(slices.Clone(d.pencils), p)
	} else {
		p.slot = d.pencils[i].slot
		d.pencils[i] = p
	}
	d.compilePencil(p)
	d.ask()
	d.tell(ShownChanged)
	return nil
}

// freeSlot is the first place no pencil line has.
func (d *Document) freeSlot() int {
	for n := 0; ; n++ {
		if !slices.ContainsFunc(d.pencils, func(p *pencil) bool { return p.slot == n }) {
			return n
		}
	}
}

func (d *Document) pencilAt(name string) int {
	return slices.IndexFunc(d.pencils, func(p *pencil) bool { return p.name == name })
}

// compilePencil gives a pencil line a generation of its own and the geometry its axle is moved by.
func (d *Document) compilePencil(p *pencil) {
	d.pencilGen++
	p.gen, p.study, p.at = d.pencilGen, nil, nil
	p.now = study.Compile(p.job)
}

// RemovePencil takes a pencil line away; it does nothing where there is none of that name.
func (d *Document) RemovePencil(name string) {
	if i := d.pencilAt(name); i >= 0 {
		d.pencils = slices.Delete(slices.Clone(d.pencils), i, i+1)
		d.tell(ShownChanged)
	}
}

// ClearPencils takes all pencil lines away.
func (d *Document) ClearPencils() {
	if len(d.pencils) > 0 {
		d.pencils = nil
		d.tell(ShownChanged)
	}
}

// HasPencil reports whether a trial is drawn as a pencil line.
func (d *Document) HasPencil(name string) bool { return d.pencilAt(name) >= 0 }

// Pencils are the pencil lines in the order they were drawn in.
func (d *Document) Pencils() []Pencil {
	var out []Pencil
	for _, p := range d.pencils {
		k := Pencil{Name: p.name, Place: p.slot, Study: p.study}
		if k.Study == nil {
			k.Study = p.now
		}
		if p.at == nil || p.place != d.axle.at {
			p.at, p.place = p.now.At(d.axle.at[0], d.axle.at[1]), d.axle.at
		}
		k.At = p.at
		out = append(out, k)
	}
	return out
}

// Pencil is the first pencil line; ok is false where there is none.
func (d *Document) Pencil() (p Pencil, ok bool) {
	if all := d.Pencils(); len(all) > 0 {
		return all[0], true
	}
	return Pencil{}, false
}

// checkPencils keeps each pencil line that of its trial when the job changes. One whose trial has another name now follows it; one whose trial is gone goes.
func (d *Document) checkPencils(before *job.Job) (changed bool) {
	if len(d.pencils) == 0 || d.drag != nil {
		return false
	}
	var stay []*pencil
	stale := false
	for _, p := range d.pencils {
		if p.name == AsItWas {
			stay = append(stay, p)
			continue
		}
		j, err := d.whole.WithTrial(p.name)
		if err != nil {
			name, ok := renamed(before, d.whole, p.name)
			if !ok {
				changed = true
				continue
			}
			changed, p.name = true, name
			j, _ = d.whole.WithTrial(name)
		}
		stay = append(stay, p)
		if j = d.placed(j); !same(j, p.job) {
			p.job = j
			d.compilePencil(p)
			changed, stale = true, true
		}
	}
	d.pencils = stay
	if stale {
		d.ask()
	}
	return changed
}

// renamed is what a trial of a job is called in a later one that has none of its name; ok is false where it is gone.
func renamed(before, after *job.Job, name string) (now string, ok bool) {
	if before == nil {
		return "", false
	}
	i := slices.IndexFunc(before.Trials, func(t job.Trial) bool { return t.Name == name })
	if i < 0 {
		return "", false
	}
	for _, t := range after.Trials {
		if slices.ContainsFunc(before.Trials, func(o job.Trial) bool { return o.Name == t.Name }) {
			continue
		}
		now = t.Name
		if t.Name = name; reflect.DeepEqual(t, before.Trials[i]) {
			return now, true
		}
	}
	return "", false
}

// same reports whether two jobs say the same.
func same(a, b *job.Job) bool { return reflect.DeepEqual(a, b) }
