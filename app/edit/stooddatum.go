package edit

import (
	"math"
	"strings"

	"axleloft/app/words"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// StoodDatums are the names of the datums measured from the floor.
func StoodDatums(j *job.Job) []string {
	var out []string
	for i := range j.Datums {
		if j.Datums[i].Taken != nil {
			out = append(out, j.Datums[i].Name)
		}
	}
	return out
}

// StoodDatumOf are the three numbers of a datum measured from the floor, as typed; ok is false where it was not.
func StoodDatumOf(j *job.Job, name string) (t StoodText, ok bool) {
	i := datumAt(j, name)
	if i < 0 || j.Datums[i].Taken == nil {
		return t, false
	}
	return textOf(j.Datums[i].Taken), true
}

// DatumPlace is where a datum with X, Y and Z is; ok is false where there is none of that name or it fixes only one.
func DatumPlace(j *job.Job, name string) (at r3.Vec, ok bool) {
	i := datumAt(j, name)
	if i < 0 || j.Datums[i].At == nil || j.Datums[i].Axis != "" {
		return at, false
	}
	return j.Datums[i].At.Vec(), true
}

// TakeStoodDatum puts a datum where its three numbers, measured from the floor, come to at ride height, and keeps them as typed; there need not be one of
// that name yet. What is counted from it goes along.
func TakeStoodDatum(j *job.Job, name string, t StoodText) (Carried, error) {
	name = strings.TrimSpace(name)
	if j.Stood != nil && j.Stood.Floor != nil && j.Stood.Floor.Datum == name && name != "" {
		return Carried{}, words.Errorf("The floor's marks are measured from %s. Choose another datum there first.", name)
	}
	at, off, err := StoodAt(j, OnFloor, t, nil)
	if err != nil {
		return Carried{}, words.Errorf("%s: %w", name, err)
	}
	d, err := readDatum(j, DatumText{Name: name, X: "0", Y: "0", Z: "0"})
	if err != nil {
		return Carried{}, err
	}
	taken := takenAs(j, OnFloor, t)
	d.Taken = &taken
	placeDatum(&d, at, off)
	i := datumAt(j, name)
	if i < 0 {
		j.Datums = append(j.Datums, d)
		return Carried{}, nil
	}
	d.Note = j.Datums[i].Note
	return replaceDatum(j, i, d)
}

// placeDatum puts a datum at a place, as far off as its worst axis may be.
func placeDatum(d *job.Datum, at, off r3.Vec) {
	to := rounded(at)
	worst := roundedUp(math.Max(off.X, math.Max(off.Y, off.Z)))
	d.At, d.Axis, d.PlusMinus = &job.Point{to.X, to.Y, to.Z}, "", &worst
}

// restandDatums works the datums measured from the floor out again, and takes along what hangs on them.
func restandDatums(j *job.Job, out *Restood) error {
	for i := range j.Datums {
		d := j.Datums[i]
		if d.Taken == nil {
			continue
		}
		at, off, err := StoodAt(j, OnFloor, textOf(d.Taken), nil)
		if err != nil {
			return words.Errorf("%s: %w", d.Name, err)
		}
		was, had := DatumPlace(j, d.Name)
		placeDatum(&d, at, off)
		if had && r3.Norm(r3.Sub(d.At.Vec(), was)) <= restoodTol {
			j.Datums[i].PlusMinus = d.PlusMinus
			out.Stayed++
			continue
		}
		c, err := replaceDatum(j, i, d)
		if err != nil {
			return err
		}
		out.Moved++
		out.With += c.Numbers + 3*c.Taped
	}
	return nil
}
