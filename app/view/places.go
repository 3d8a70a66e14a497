package view

import (
	"image"
	"image/color"
	"math"

	"axleloft/app/study"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
)

// PlaceSheet is the map of where a pivot could sit in one view, ready to be painted: the states of its squares by the smallest of them.
type PlaceSheet struct {
	Map   *study.PlaceMap
	lo    [2]float64 // corner, mm in the view's own axes as the map has them
	n     int        // squares along each side
	cells []int32    // index into Map.Cells, -1 none
	flip  float64    // of the map's first axis against the view's right
}

// NewPlaceSheet readies a map of a view; nil where there are no squares.
func NewPlaceSheet(p Plane, m *study.PlaceMap) *PlaceSheet {
	if len(m.Cells) == 0 {
		return nil
	}
	s := &PlaceSheet{Map: m, lo: [2]float64{math.Inf(1), math.Inf(1)}, flip: 1}
	hi := math.Inf(-1)
	for i := range m.Cells {
		c := &m.Cells[i]
		s.lo[0], s.lo[1] = math.Min(s.lo[0], c.U-c.Size/2), math.Min(s.lo[1], c.V-c.Size/2)
		hi = math.Max(hi, c.U+c.Size/2)
	}
	s.n = int(math.Round((hi - s.lo[0]) / study.PlaceFine))
	s.cells = make([]int32, s.n*s.n)
	for i := range s.cells {
		s.cells[i] = -1
	}
	for i := range m.Cells {
		c := &m.Cells[i]
		c0, r0 := s.slot(c.U-c.Size/2, 0), s.slot(c.V-c.Size/2, 1)
		k := int(math.Round(c.Size / study.PlaceFine))
		for r := r0; r < r0+k && r < s.n; r++ {
			for q := c0; q < c0+k && q < s.n; q++ {
				if r >= 0 && q >= 0 {
					s.cells[r*s.n+q] = int32(i)
				}
			}
		}
	}
	if p == Rear { // its right is the vehicle's right
		s.flip = -1
	}
	return s
}

// slot is the row or column that begins at a coordinate.
func (s *PlaceSheet) slot(v float64, axis int) int {
	return int(math.Round((v - s.lo[axis]) / study.PlaceFine))
}

// At is the square at a place of the view's own axes, mm; nil off the map.
func (s *PlaceSheet) At(right, up float64) *study.PlaceCell {
	c, r := int(math.Floor((right*s.flip-s.lo[0])/study.PlaceFine)), int(math.Floor((up-s.lo[1])/study.PlaceFine))
	if c < 0 || r < 0 || c >= s.n || r >= s.n || s.cells[r*s.n+c] < 0 {
		return nil
	}
	return &s.Map.Cells[s.cells[r*s.n+c]]
}

// Room is the box of the map in a view, units, cut to it.
func (s *PlaceSheet) Room(t Transform) (x0, y0, x1, y1 float64) {
	wide := float64(s.n) * study.PlaceFine
	ax, ay := t.ToScreen(s.lo[0]*s.flip, s.lo[1])
	bx, by := t.ToScreen((s.lo[0]+wide)*s.flip, s.lo[1]+wide)
	x0, x1 = math.Max(0, math.Floor(math.Min(ax, bx))), math.Min(t.Size.W, math.Ceil(math.Max(ax, bx)))
	y0, y1 = math.Max(0, math.Floor(math.Min(ay, by))), math.Min(t.Size.H, math.Ceil(math.Max(ay, by)))
	return x0, y0, x1, y1
}

// How the states are marked: what is free is shaded, tight dotted, what hits striped; what runs out is ruled level, where it cannot be ruled both ways. Units.
const (
	shadePart   = 0x48
	markPart    = 0xD0
	rulePeriod  = 6.0
	ruleWidth   = 1.2
	stripeEvery = 10.0 // along the picture's edge
	stripePart  = 2.6
	dotEvery    = 6.0
	dotSize     = 1.5
)

// stateColour is the colour of a state at a place of the picture, units; nothing between the marks.
func stateColour(s study.PlaceState, x, y float64, scheme ink.Scheme) color.NRGBA {
	in := func(v, period, width float64) bool { return v-math.Floor(v/period)*period < width }
	part := func(r ink.Role, a uint8) color.NRGBA {
		c := ink.In(r, scheme)
		c.A = a
		return c
	}
	switch s {
	case study.PlaceFree:
		return part(ink.Measure, shadePart)
	case study.PlaceTight:
		row := math.Floor(y / dotEvery)
		dx := x
		if int(row)&1 != 0 {
			dx += dotEvery / 2
		}
		dx -= math.Floor(dx/dotEvery)*dotEvery + dotEvery/2
		dy := y - row*dotEvery - dotEvery/2
		if dx*dx+dy*dy < dotSize*dotSize {
			return part(ink.Trouble, markPart)
		}
	case study.PlaceHits:
		if in(x-y, stripeEvery, stripePart) {
			return part(ink.Trouble, markPart)
		}
	case study.PlaceRunsOut:
		if in(y, rulePeriod, ruleWidth) {
			return part(ink.Second, markPart)
		}
	default:
		if in(y, rulePeriod, ruleWidth) || in(x, rulePeriod, ruleWidth) {
			return part(ink.Second, markPart)
		}
	}
	return color.NRGBA{}
}

// PlaceMarks are the marks of all states as squares of pixels that are laid side by side; made again where scale or colours change. One goroutine.
type PlaceMarks struct {
	scale  float64
	scheme ink.Scheme
	n      int // pixels along a side
	tiles  [study.PlaceStates][]color.NRGBA
}

// markSide is a whole number of every mark's period, units.
const markSide = 60.0

func (k *PlaceMarks) ready(scale float64, scheme ink.Scheme) {
	if k.n > 0 && k.scale == scale && k.scheme == scheme {
		return
	}
	k.scale, k.scheme, k.n = scale, scheme, max(1, int(math.Round(markSide*scale)))
	for st := range k.tiles {
		k.tiles[st] = make([]color.NRGBA, k.n*k.n)
		for i := range k.tiles[st] {
			x, y := (float64(i%k.n)+0.5)*markSide/float64(k.n), (float64(i/k.n)+0.5)*markSide/float64(k.n)
			k.tiles[st][i] = stateColour(study.PlaceState(st), x, y, scheme)
		}
	}
}

// Paint paints the part of the map in a box of a view into a picture of that box: marks by state, and a line where states meet.
func (s *PlaceSheet) Paint(img *image.NRGBA, t Transform, x0, y0, scale float64, scheme ink.Scheme, marks *PlaceMarks) {
	clear(img.Pix)
	marks.ready(scale, scheme)
	w, h := img.Rect.Dx(), img.Rect.Dy()
	edge := ink.In(ink.Text, scheme)
	edge.A = markPart
	across := make([]int, w+1) // column of squares by pixel, -1 off the map
	for i := range across {
		right, _ := t.ToWorld(x0+(float64(i)+0.5)/scale, 0)
		if across[i] = int(math.Floor((right*s.flip - s.lo[0]) / study.PlaceFine)); across[i] >= s.n {
			across[i] = -1
		}
	}
	states := make([]int8, s.n)
	row := func(dst []int8, i int) { // states along a row of pixels
		_, up := t.ToWorld(0, y0+(float64(i)+0.5)/scale)
		r := int(math.Floor((up - s.lo[1]) / study.PlaceFine))
		for c := range states {
			states[c] = -1
			if r >= 0 && r < s.n && s.cells[r*s.n+c] >= 0 {
				states[c] = int8(s.Map.Cells[s.cells[r*s.n+c]].State)
			}
		}
		for i, c := range across {
			dst[i] = -1
			if c >= 0 {
				dst[i] = states[c]
			}
		}
	}
	now, next := make([]int8, w+1), make([]int8, w+1)
	row(next, 0)
	px, py := int(math.Round(x0*scale)), int(math.Round(y0*scale))
	for j := range h {
		now, next = next, now
		row(next, j+1)
		line := img.Pix[j*img.Stride:]
		mark := (py + j) % marks.n * marks.n
		for i := range w {
			at := now[i]
			if at < 0 {
				continue
			}
			c := edge
			if now[i+1] == at && next[i] == at {
				c = marks.tiles[at][mark+(px+i)%marks.n]
			}
			if c.A > 0 {
				line[4*i], line[4*i+1], line[4*i+2], line[4*i+3] = c.R, c.G, c.B, c.A
			}
		}
	}
}

// Swatch paints a box of one state, for a legend.
func Swatch(img *image.NRGBA, state study.PlaceState, scale float64, scheme ink.Scheme) {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	edge := ink.In(ink.Text, scheme)
	edge.A = markPart
	for j := range h {
		for i := range w {
			c := edge
			if i > 0 && j > 0 && i < w-1 && j < h-1 {
				c = stateColour(state, (float64(i)+0.5)/scale, (float64(j)+0.5)/scale, scheme)
			}
			k := img.PixOffset(i, j)
			img.Pix[k], img.Pix[k+1], img.Pix[k+2], img.Pix[k+3] = c.R, c.G, c.B, c.A
		}
	}
}

// PlaceWord is a state's word and where it stands in the view.
type PlaceWord struct {
	Words string
	Box   [4]float64 // units
}

// PlaceWords finds for each state a place in the view where its word stands within squares of that state, clear of the pivot; a state with no room for it has none.
func (s *PlaceSheet) PlaceWords(t Transform, m drawing.Measure) []PlaceWord {
	const size, step, clear, caption = 15.0, 6.0, 26.0, 27.0
	x0, y0, x1, y1 := s.Room(t)
	y0, y1 = math.Max(y0, caption), math.Min(y1, t.Size.H-caption) // where the view says what it is
	px, py := t.Place(s.Map.At)
	var out []PlaceWord
	for state := range study.PlaceStates {
		words := study.PlaceState(state).String()
		w, h := m(words, size, true)
		w, h = w+10, h+2
		best, found := math.Inf(1), false
		var box [4]float64
		for y := y0; y+h <= y1; y += step {
			for x := x0; x+w <= x1; x += step {
				mx, my := x+w/2, y+h/2
				far := math.Hypot(mx-px, my-py)
				if far >= best || math.Abs(mx-px) < w/2+clear && math.Abs(my-py) < h/2+clear || !s.all(t, x, y, w, h, study.PlaceState(state)) {
					continue
				}
				best, found, box = far, true, [4]float64{x, y, w, h}
			}
		}
		if found {
			out = append(out, PlaceWord{words, box})
		}
	}
	return out
}

// all reports whether a box lies in squares of one state.
func (s *PlaceSheet) all(t Transform, x, y, w, h float64, state study.PlaceState) bool {
	for _, fx := range [4]float64{0, 1, 0.5, 0.25} {
		for _, fy := range [3]float64{0, 1, 0.5} {
			if c := s.At(t.ToWorld(x+fx*w, y+fy*h)); c == nil || c.State != state {
				return false
			}
		}
	}
	return true
}
