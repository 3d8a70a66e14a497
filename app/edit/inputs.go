package edit

import (
	"strings"

	"axleloft/geometry/job"
)

// Lists are all lists of a job and its single things, in the order of a reader's interest: what it is of first, then what moves, then what is in the way.
func Lists() []List {
	return []List{JobCard, Vehicle, Loads, Heights, Travel, AxleTube, Housing, Links, Arms, Rockers, Struts, Stops, Straps, Lines, Sensors, Driveline, Output, Bearing, Pinion, Envelopes, Brackets}
}

// GivenFor is how the number of a field was got, by the field's key; ok is false where nobody says.
func GivenFor(j *job.Job, part Part, key string) (g job.GivenValue, ok bool) {
	of, axis := key, -1
	for a, s := range axisKeys {
		if cut, is := strings.CutSuffix(key, "."+s); is {
			of, axis = cut, a
		}
	}
	if axis >= 0 {
		for _, p := range Pivots(j) {
			if PartOf(p) == part && PivotKey(j, p) == of {
				return GivenOf(j, p, Axis(axis))
			}
		}
	}
	var given job.Given
	switch i := part.Index; part.List {
	case Envelopes:
		given = j.Envelopes[i].Given
	case Housing:
		given = j.Axle.Housing[i].Given
	case Loads:
		given = j.Vehicle.Loads[i].Given
	}
	g, ok = given[key]
	return g, ok
}
