package edit

import (
	"slices"

	"axleloft/geometry/job"
)

// rows is a list of a job, whatever its entries are.
type rows interface {
	len() int
	entry(i int) entry
	cut(i int)                   // takes one out
	swap(i, k int)               // changes two places
	add(from rows, i int)        // puts one of a list of the same kind at the end, planned
	part(i int, of rows, at int) // puts two others, which follow one another from at, in one's place
	mirror(i int)                // in Y
}

// list is the list of a job where its entries stand in an order; nil for a single thing, and where the job has no place for it.
func list(j *job.Job, l List) rows {
	switch l {
	case Links:
		return rowsOf[job.Link]{&j.Links, func(v *job.Link) entry { return entry{&v.Name, &v.Pair} }, func(v *job.Link) { v.Measured = nil }, job.Mirror[*job.Link]}
	case Arms:
		return rowsOf[job.Arm]{&j.Arms, func(v *job.Arm) entry { return entry{&v.Name, &v.Pair} }, func(v *job.Arm) { v.Measured = nil }, job.Mirror[*job.Arm]}
	case Rockers:
		return rowsOf[job.Rocker]{&j.Rockers, func(v *job.Rocker) entry { return entry{name: &v.Name} }, func(v *job.Rocker) { v.Measured = nil }, nil}
	case Struts:
		return rowsOf[job.Strut]{&j.Struts, func(v *job.Strut) entry { return entry{&v.Name, &v.Pair} }, func(v *job.Strut) { v.Measured = nil }, job.Mirror[*job.Strut]}
	case Stops:
		return rowsOf[job.Stop]{&j.Stops, func(v *job.Stop) entry { return entry{&v.Name, &v.Pair} }, func(v *job.Stop) { v.Measured = nil }, job.Mirror[*job.Stop]}
	case Straps:
		return rowsOf[job.Strap]{&j.Straps, func(v *job.Strap) entry { return entry{&v.Name, &v.Pair} }, func(v *job.Strap) { v.Measured = nil }, job.Mirror[*job.Strap]}
	case Lines:
		return rowsOf[job.Line]{&j.Lines, func(v *job.Line) entry { return entry{&v.Name, &v.Pair} }, func(v *job.Line) { v.Measured = nil }, job.Mirror[*job.Line]}
	case Sensors:
		return rowsOf[job.Sensor]{&j.Sensors, func(v *job.Sensor) entry { return entry{&v.Name, &v.Pair} }, func(v *job.Sensor) { v.Measured = nil }, job.Mirror[*job.Sensor]}
	case Envelopes:
		return rowsOf[job.Envelope]{&j.Envelopes, func(v *job.Envelope) entry { return entry{&v.Name, &v.Pair} }, func(v *job.Envelope) { v.Measured = nil }, job.Mirror[*job.Envelope]}
	case Brackets:
		return rowsOf[job.Bracket]{&j.Brackets, func(*job.Bracket) entry { return entry{} }, nil, nil}
	case Housing:
		if j.Axle != nil {
			return rowsOf[job.Envelope]{&j.Axle.Housing, func(v *job.Envelope) entry { return entry{name: &v.Name} }, nil, nil}
		}
	case Loads:
		if j.Vehicle != nil {
			return rowsOf[job.Load]{&j.Vehicle.Loads, func(v *job.Load) entry { return entry{name: &v.Name} }, nil, nil}
		}
	case Heights:
		if j.Vehicle != nil {
			return rowsOf[job.Height]{&j.Vehicle.Heights, func(v *job.Height) entry { return entry{name: &v.Name} }, nil, nil}
		}
	}
	return nil
}

// rowsOf is a list of entries of one type.
type rowsOf[T any] struct {
	at   *[]T
	of   func(*T) entry
	plan func(*T) // takes the mark that it is measured away; nil: it has none
	turn func(*T) // mirrors it; nil: it has no other side
}

func (r rowsOf[T]) len() int          { return len(*r.at) }
func (r rowsOf[T]) entry(i int) entry { return r.of(&(*r.at)[i]) }
func (r rowsOf[T]) swap(i, k int)     { (*r.at)[i], (*r.at)[k] = (*r.at)[k], (*r.at)[i] }

func (r rowsOf[T]) cut(i int) { *r.at = cut(*r.at, i) }

// cut takes an entry out of a list; no empty list is left in the file.
func cut[T any](list []T, i int) []T {
	list = slices.Delete(list, i, i+1)
	if len(list) == 0 {
		return nil
	}
	return list
}

func (r rowsOf[T]) add(from rows, i int) {
	v := (*from.(rowsOf[T]).at)[i]
	if r.plan != nil {
		r.plan(&v)
	}
	*r.at = append(*r.at, v)
}

func (r rowsOf[T]) part(i int, of rows, at int) {
	*r.at = slices.Replace(*r.at, i, i+1, (*of.(rowsOf[T]).at)[at:at+2]...)
}

func (r rowsOf[T]) mirror(i int) {
	if r.turn != nil {
		r.turn(&(*r.at)[i])
	}
}
