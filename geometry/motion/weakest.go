package motion

// WeakestAt is how well the axle is held at a solved pose, the smallest singular value there, and the motion it is held least in.
func (m *Mechanism) WeakestAt(p *Pose) (singular float64, f Free) {
	sv, t := m.singular(p)
	return sv, Free(t)
}

// Holders names the members that hold the axle where the links end its way, at the solved pose nearest to it: those the words of the end name. None
// where it cannot be told.
func (m *Mechanism) Holders(p *Pose) []string { return m.holders(p) }
