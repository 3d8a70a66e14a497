package study

import (
	"errors"

	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
)

// Compile is the part of a study that is there at once: the mechanism, the parts and the loads. Depth is Live and there is no range, no
// sweep, no finding; Refusal or RangeNote says what cannot be had. At works on it as on any other.
func Compile(j *job.Job) *Study { return compile(j, nil) }

// compile is Compile with links that are not as long as they are drawn: by their index in the mechanism, mm.
func compile(j *job.Job, lengths map[int]float64) *Study {
	s := &Study{Depth: Live, Job: j, Parts: job.Expand(j)}
	s.curves, s.grids, s.fields = map[string][]Curve{}, map[int]*grid{}, map[string]*Field{}
	s.Loads = quantity.Loads(j)
	m, err := motion.Compile(j)
	if err == nil && len(lengths) > 0 {
		m, err = m.WithLengths(lengths)
	}
	if err != nil {
		s.Refusal = sentence(err)
		var why *motion.Error
		if errors.As(err, &why) {
			s.Free = why.Free
		}
		return s
	}
	s.Mech = m
	s.solvers.New = func() any { return m.NewSolver() }
	if c, err := clearance.Compile(j, m); err != nil {
		s.RangeNote = sentence(err)
	} else {
		s.Gaps = c
	}
	return s
}
