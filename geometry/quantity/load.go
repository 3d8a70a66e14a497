package quantity

import (
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// Loads returns the loads of a job; at least one (without Has when the job gives none).
func Loads(j *job.Job) []Load {
	v := j.Vehicle
	if len(v.Loads) == 0 {
		return []Load{{Radius: v.Tyre.LoadedRadius}}
	}
	out := make([]Load, len(v.Loads))
	for i := range v.Loads {
		l := &v.Loads[i]
		out[i] = Load{Name: l.Name, Has: true, Mass: l.Mass, CG: l.CG.Vec(), Heave: l.Heave, Radius: l.Radius(v.Tyre)}
	}
	return out
}

// ground is the ground of a load at a pose, in the X-Z plane of the body: contact is the point one loaded radius below the axle centre along
// body Z, ex runs along the ground forward, ez square to it, L is the wheelbase along it.
type ground struct {
	contact, ex, ez r3.Vec
	wheelbase       float64
}
