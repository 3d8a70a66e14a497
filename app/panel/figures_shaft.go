package panel

import (
	"math"

	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
)

// spins reports whether a shaft speed is chosen.
func (f *figures) spins() bool {
	return f.mech != nil && f.mech.Drive.Has && !math.IsNaN(f.mech.Drive.Speed)
}

// rpm is the shaft speed chosen, rev/min; NaN where none is.
func (f *figures) rpm() float64 {
	if !f.spins() {
		return math.NaN()
	}
	return f.mech.Drive.Speed * 30 / math.Pi
}

func (f *figures) pinionGround() Reading {
	of := func(v *quantity.Values) float64 { return v.PinionGroundDeg }
	v, word := f.sided(f.value(of), 0.05, words.T("nose up"), words.T("nose down"), "level")
	r := Reading{Key: "pinionground", Name: words.T("Pinion to the ground"), Word: f.onGround(word), Value: tenth(v), Unit: words.T("deg")}
	f.fill(&r, of, f.swept(of), tenth)
	return r
}

// accelerationUnit is that of shaft accelerations.
const accelerationUnit = "rad/s²"

func (f *figures) torsional() Reading {
	of := func(v *quantity.Values) float64 { return v.Torsional }
	r := Reading{Key: "torsional", Name: words.T("Shaft, torsional"), Word: words.F("at %s rev/min", whole(f.rpm())), Value: whole(f.value(of)), Unit: accelerationUnit,
		BandLo: 0, BandHi: quantity.TorsionalAdvice, Under: words.T("joint maker's advice")}
	f.fill(&r, of, f.extents().Torsional, whole)
	return r
}

func (f *figures) inertia() Reading {
	of := func(v *quantity.Values) float64 { return math.Max(v.InertiaFront, v.InertiaRear) }
	r := Reading{Key: "inertia", Name: words.T("Shaft, inertia"), Word: words.F("at %s rev/min", whole(f.rpm())), Value: whole(f.value(of)), Unit: accelerationUnit,
		BandLo: 0, BandHi: quantity.InertiaAdvice, Under: words.T("joint maker's advice")}
	e := f.extents().InertiaFront
	e.Min, e.Max = math.Max(e.Min, f.extents().InertiaRear.Min), math.Max(e.Max, f.extents().InertiaRear.Max)
	f.fill(&r, of, e, whole)
	return r
}

// mostForced finds what is stretched, squeezed or gives most, mm, and a function that names it in its own mechanism.
func mostForced(v *quantity.Values) (mm float64, name func(*motion.Mechanism) string) {
	name = func(*motion.Mechanism) string { return "" }
	take := func(s float64, n func(*motion.Mechanism) string) {
		if s = math.Abs(s); s > mm {
			mm, name = s, n
		}
	}
	for i := range v.Links {
		take(v.Links[i].Stretch, func(m *motion.Mechanism) string { return m.Links[i].Name })
	}
	for i := range v.Arms {
		n := func(m *motion.Mechanism) string { return m.Arms[i].Name }
		for _, s := range v.Arms[i].Stretches {
			take(s, n)
		}
		for _, s := range v.Arms[i].Gives {
			take(s, n)
		}
	}
	for i := range v.Rockers {
		for k := range v.Rockers[i].Rods {
			take(v.Rockers[i].Rods[k].Stretch, func(m *motion.Mechanism) string { return m.Rockers[i].Rods[k].Name })
		}
	}
	return mm, name
}

// forced is the member of an over-located layout that is stretched or squeezed most.
func (f *figures) forced() Reading {
	show := tenth
	if f.unit == "in" {
		show = f.lengths
	}
	of := func(v *quantity.Values) float64 { mm, _ := mostForced(v); return mm }
	e := study.Extent{Min: math.Inf(1), Max: math.Inf(-1)}
	x := f.extents()
	for i := range x.Stretch {
		if s := &x.Stretch[i]; s.Known() {
			e.Min, e.Max = 0, math.Max(e.Max, math.Max(math.Abs(s.Min), math.Abs(s.Max)))
		}
	}
	for i := range x.Gives {
		for k := range x.Gives[i] {
			if s := &x.Gives[i][k]; s.Known() {
				e.Min, e.Max = 0, math.Max(e.Max, s.Max)
			}
		}
	}
	r := Reading{Key: "forced", Name: words.T("Most forced"), Word: words.T("the links fight by"), Value: show(f.value(of)), Unit: f.unit}
	if f.now != nil {
		_, name := mostForced(f.now)
		r.Under = name(f.mech)
	}
	f.fill(&r, of, e, show)
	return r
}
