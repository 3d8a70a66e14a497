package study

import (
	"errors"

	"axleloft/app/words"
	"axleloft/geometry/job"
	"axleloft/geometry/measure"
	"axleloft/geometry/motion"

	"gonum.org/v1/gonum/spatial/r3"
)

// Hang is how the axle of a job hangs with the struts of that name so long, mm pivot to pivot: found with the job's own links, on the way the axle
// has from ride height. A single strut has one length. Refused in a sentence where the links do not hold the axle, or do not let it there.
func Hang(j *job.Job, strut string, left, right float64) (measure.Stood, error) {
	m, err := motion.Compile(j)
	if err != nil {
		return measure.Stood{}, errors.New(sentence(err))
	}
	l, r := -1, -1
	for i := range m.Struts {
		switch m.Struts[i].Name {
		case strut:
			l, r = i, i
		case strut + " left":
			l = i
		case strut + " right":
			r = i
		}
	}
	if l < 0 || r < 0 {
		return measure.Stood{}, words.Errorf("There are no struts called %s any more. Choose what tells where the axle hung.", strut)
	}
	if l == r {
		right = left
	}
	s := m.NewSolver()
	var p motion.Pose
	if err := s.Hang(l, r, left, right, &p); err != nil {
		return measure.Stood{}, errors.New(sentence(err))
	}
	return measure.Stood{Ex: p.Ex, Ey: p.Ey, Ez: p.Ez, At: p.C, Ride: r3.Vec{Z: m.Radius}}, nil
}
