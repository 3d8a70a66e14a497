package study

import (
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
)

// forcedMember is a member of an over-located layout that is forced: a kept distance that is stretched, or a pivot of a radius arm that gives.
type forcedMember struct {
	name           string
	arm            bool // a pivot of a radius arm: sizes, not signed
	stretch, force func(*quantity.Values) float64
	x, newton      func(*Extents) *Extent
}

// forced lists what an over-located layout can force: its kept distances, then the pivots of its radius arms.
func (s *Study) forced() []forcedMember {
	m := s.Mech
	var out []forcedMember
	for i := range m.Distances {
		d := &m.Distances[i]
		out = append(out, forcedMember{name: d.Name,
			stretch: func(v *quantity.Values) float64 { return v.Stretch(d) }, force: func(v *quantity.Values) float64 { return v.Pull(d) },
			x: func(x *Extents) *Extent { return &x.Stretch[i] }, newton: func(x *Extents) *Extent { return &x.Force[i] }})
	}
	for i := range m.Joints {
		j := &m.Joints[i]
		if j.Of != motion.OnArm || !m.Arms[j.Member].Radius {
			continue
		}
		a, k := j.Member, j.Sub
		out = append(out, forcedMember{name: j.Name, arm: true,
			stretch: func(v *quantity.Values) float64 { return v.Arms[a].Gives[k] }, force: func(v *quantity.Values) float64 { return v.Arms[a].GiveForces[k] },
			x: func(x *Extents) *Extent { return &x.Gives[a][k] }, newton: func(x *Extents) *Extent { return &x.GiveForces[a][k] }})
	}
	return out
}
