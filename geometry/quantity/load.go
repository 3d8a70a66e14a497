package quantity

import "axleloft/geometry/job"

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
