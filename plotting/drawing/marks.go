package drawing

import "math"

// The marks of trouble, units: stripes 3 on 3 at 45 degrees, down to the right, and dots of 2.6 on the slant. Both are tied to the picture's corner, so that
// two areas side by side match.
const (
	stripePeriod = 6.0
	stripeWidth  = 3.0
	dotPitch     = 4.2
	dotRadius    = 1.3
)

// Bands returns the stripes of a convex area, closed polygons.
func Bands(area []Point) [][]Point {
	if len(area) < 3 {
		return nil
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range area {
		d := (p.X - p.Y) / math.Sqrt2
		lo, hi = math.Min(lo, d), math.Max(hi, d)
	}
	if !(hi-lo < 1e5) {
		return nil
	}
	const s = 1 / math.Sqrt2
	var out [][]Point
	for k := math.Floor(lo / stripePeriod); k*stripePeriod <= hi; k++ {
		at := k * stripePeriod
		band := CutArea(CutArea(area, s, -s, -at), -s, s, at+stripeWidth)
		if len(band) > 2 {
			out = append(out, band)
		}
	}
	return out
}

// Specks returns the middles of the dots of an area; each has a radius of 1.3.
func Specks(area []Point) []Point {
	x0, y0, x1, y1 := extent(area)
	if len(area) < 3 || !((x1-x0)*(y1-y0) < 1e8) {
		return nil
	}
	var out []Point
	for row := math.Ceil(y0 / dotPitch); row*dotPitch <= y1; row++ {
		shift := 0.0
		if int(row)&1 != 0 {
			shift = dotPitch / 2
		}
		for col := math.Ceil((x0 - shift) / dotPitch); col*dotPitch+shift <= x1; col++ {
			if x, y := col*dotPitch+shift, row*dotPitch; within(area, x, y) {
				out = append(out, Point{x, y})
			}
		}
	}
	return out
}

// SpeckRadius is the radius of a dot, units.
const SpeckRadius = dotRadius

// PencilDash is the long dash with two dots of ISO 128 for the other position of a moving part: ink and gap by turns, units.
var PencilDash = [...]float64{20, 3, 2, 3, 2, 3}

const pencilPeriod = 33.0

// PencilShift is how far along the pattern the dashes of a pencil line begin by its place, 0 to 3, so that lines of different places that lie on each other
// are out of step.
func PencilShift(place int) float64 { return float64(place&3) * pencilPeriod / 4 }

// Round returns the outline of a circle as a polygon, fine enough for its size.
func Round(x, y, r float64) []Point {
	n := int(math.Max(16, math.Min(720, 6*math.Sqrt(math.Max(r, 0))*2)))
	out := make([]Point, n)
	for i := range out {
		sn, cs := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = Point{x + r*cs, y + r*sn}
	}
	return out
}

// Capsule returns the outline of a round bar between two points.
func Capsule(a, b Point, r float64) []Point {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	if l == 0 {
		return Round(a.X, a.Y, r)
	}
	n := int(math.Max(8, math.Min(180, 6*math.Sqrt(math.Max(r, 0)))))
	from := math.Atan2(b.Y-a.Y, b.X-a.X) - math.Pi/2
	out := make([]Point, 0, 2*n+2)
	for half, c := range [2]Point{b, a} {
		for i := 0; i <= n; i++ {
			sn, cs := math.Sincos(from + math.Pi*(float64(half)+float64(i)/float64(n)))
			out = append(out, Point{c.X + r*cs, c.Y + r*sn})
		}
	}
	return out
}
