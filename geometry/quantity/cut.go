package quantity

import (
	"math"

	"axleloft/geometry/job"
)

// SteelDensity is that of steel, kg a mm3 (7850 kg/m3; EN 1991-1-1 table A.4 has 77.0 to 78.5 kN/m3, from memory).
const SteelDensity = 7850e-9

// Cut is what a bench makes of a link: what its ends leave of its length, and how far they screw.
type Cut struct {
	Length  float64 // centre to centre at ride height, mm
	Tube    float64 // the tube's length between square ends, along its centre line where it is bent, mm; NaN where it is not known what the ends take
	Mass    float64 // of that tube, kg; NaN where there is none
	In, Out float64 // how much shorter and longer the link can be made by its ends, mm
	Turn    float64 // by how much one turn of the tube makes it longer or shorter, mm: both ends screw, with threads of two hands; NaN where they do not
}

// CutOf works out what is cut for a link. What the ends take is counted along the tube.
func CutOf(l *job.Link) Cut {
	c := Cut{Length: distance(l.Frame, l.Axle), Tube: math.NaN(), Mass: math.NaN(), Turn: math.NaN()}
	along, last := 0.0, l.Frame
	for _, b := range l.Bends {
		along += distance(last, b)
		last = b
	}
	along += distance(last, l.Axle)
	f, a := l.FrameEnd, l.AxleEnd
	if f != nil && a != nil && f.Takes != nil && a.Takes != nil {
		if c.Tube = along - *f.Takes - *a.Takes; !(c.Tube > 0) {
			c.Tube = math.NaN()
		}
	}
	for _, e := range []*job.End{f, a} {
		if e != nil && e.Adjust != nil {
			c.In += *e.Adjust
			c.Out += *e.Adjust
		}
	}
	if f != nil && a != nil && f.Thread != nil && a.Thread != nil && f.Adjust != nil && a.Adjust != nil && (f.Hand == "left") != (a.Hand == "left") {
		c.Turn = *f.Thread + *a.Thread
	}
	if l.Tube != nil {
		c.Mass = TubeMass(l.Tube, c.Tube)
	}
	return c
}

// TubeMass is the mass of a length of steel tube, kg; NaN where the length is.
func TubeMass(t *job.Tube, length float64) float64 {
	in := 0.0
	if t.Wall != nil {
		in = math.Max(0, t.Outside-2**t.Wall)
	}
	return SteelDensity * math.Pi / 4 * (t.Outside*t.Outside - in*in) * length
}

func distance(a, b job.Point) float64 {
	return math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
}
