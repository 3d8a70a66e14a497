package view

import (
	"image"
	"math"
	"testing"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/plotting/ink"
	"axleloft/plotting/paper"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// mapOf is a map of a view with a border: free above the pivot, tight at it, what hits below; the squares along it smaller.
func mapOf(p Plane, at r3.Vec) *study.PlaceMap {
	axes := [3][2]edit.Axis{{edit.X, edit.Z}, {edit.Y, edit.Z}, {edit.X, edit.Y}}[p]
	m := &study.PlaceMap{U: axes[0], V: axes[1], At: at}
	mid := [2]float64{[3]float64{at.X, at.Y, at.Z}[axes[0]], [3]float64{at.X, at.Y, at.Z}[axes[1]]}
	put := func(u, v, size float64, s study.PlaceState) {
		m.Cells = append(m.Cells, study.PlaceCell{U: mid[0] + u, V: mid[1] + v, Size: size, Place: study.Place{State: s}})
	}
	for i := -5; i <= 5; i++ {
		for k := -5; k <= 5; k++ {
			u, v := 40*float64(i), 40*float64(k)
			switch {
			case k > 0:
				put(u, v, 40, study.PlaceFree)
			case k < 0:
				put(u, v, 40, study.PlaceHits)
			default:
				for _, d := range [4][2]float64{{-10, -10}, {10, -10}, {-10, 10}, {10, 10}} {
					put(u+d[0], v+d[1], 20, study.PlaceTight)
				}
			}
		}
	}
	return m
}

func TestEverySquareIsFoundInItsView(t *testing.T) {
	at := r3.Vec{X: -210, Y: 470, Z: 500}
	for p := Side; p <= Plan; p++ {
		m := mapOf(p, at)
		s := NewPlaceSheet(p, m)
		require.NotNil(t, s)
		for i := range m.Cells {
			c := &m.Cells[i]
			v := [3]float64{at.X, at.Y, at.Z}
			v[m.U], v[m.V] = c.U, c.V
			right, up := p.Project(r3.Vec{X: v[0], Y: v[1], Z: v[2]})
			for _, d := range [4][2]float64{{0.49, 0.49}, {-0.49, 0.49}, {0.49, -0.49}, {0, 0}} {
				assert.Same(t, c, s.At(right+d[0]*c.Size, up+d[1]*c.Size), "%v %v", p, c)
			}
		}
		right, up := p.Project(at)
		assert.Nil(t, s.At(right+221, up))
		assert.Nil(t, s.At(right, up-221))
	}
	assert.Nil(t, NewPlaceSheet(Side, &study.PlaceMap{}))
}

// Every state has marks of its own, in light and dark; nothing is painted off the map; a word stands only within its own squares and off the pivot.
func TestWherePivotsCouldSitIsPainted(t *testing.T) {
	at := r3.Vec{X: -210, Y: 470, Z: 500}
	for _, scheme := range []ink.Scheme{ink.Light, ink.Dark, ink.Bright} {
		for p := Side; p <= Plan; p++ {
			for _, scale := range []float64{0.3, 1, 2.5} {
				s := NewPlaceSheet(p, mapOf(p, at))
				tr := Eye{At: at, Scale: scale}.Transform(p, Size{W: 600, H: 460})
				x0, y0, x1, y1 := s.Room(tr)
				assert.True(t, x0 >= 0 && y0 >= 0 && x1 <= 600 && y1 <= 460)
				img := image.NewNRGBA(image.Rect(0, 0, int(x1-x0), int(y1-y0)))
				s.Paint(img, tr, x0, y0, 1, scheme, &PlaceMarks{})
				var marked, all [study.PlaceStates]int
				for j := range img.Rect.Dy() {
					for i := range img.Rect.Dx() {
						c := s.At(tr.ToWorld(x0+float64(i)+0.5, y0+float64(j)+0.5))
						a := img.NRGBAAt(i, j).A
						if c == nil {
							assert.Zero(t, a)
							continue
						}
						all[c.State]++
						if a > 0 {
							marked[c.State]++
						}
					}
				}
				share := func(s study.PlaceState) float64 { return float64(marked[s]) / float64(all[s]) }
				assert.Greater(t, share(study.PlaceFree), 0.99)
				for _, st := range []study.PlaceState{study.PlaceTight, study.PlaceHits} {
					if all[st] > 2000 {
						assert.True(t, share(st) > 0.1 && share(st) < 0.5, "%v: %v of it is marked", st, share(st))
					}
				}
				px, py := tr.Place(at)
				for _, w := range s.PlaceWords(tr, paper.Measure) {
					for _, d := range [5][2]float64{{0, 0}, {1, 0}, {0, 1}, {1, 1}, {0.5, 0.5}} {
						c := s.At(tr.ToWorld(w.Box[0]+d[0]*w.Box[2], w.Box[1]+d[1]*w.Box[3]))
						require.NotNil(t, c)
						assert.Equal(t, w.Words, c.State.String())
					}
					assert.False(t, math.Abs(px-w.Box[0]-w.Box[2]/2) < w.Box[2]/2 && math.Abs(py-w.Box[1]-w.Box[3]/2) < w.Box[3]/2)
				}
				if scale == 1 {
					assert.Len(t, s.PlaceWords(tr, paper.Measure), 3)
				}
			}
		}
	}
}

// The marks of no two states are the same, whatever the colours.
func TestStatesAreToldApartByTheirMarks(t *testing.T) {
	seen := map[string]study.PlaceState{}
	for st := range study.PlaceStates {
		img := image.NewNRGBA(image.Rect(0, 0, 40, 28))
		Swatch(img, study.PlaceState(st), 2, ink.Light)
		shape := make([]byte, 0, 40*28)
		for i := 3; i < len(img.Pix); i += 4 {
			on := byte('0')
			if img.Pix[i] > 0 {
				on = '1'
			}
			shape = append(shape, on)
		}
		was, twice := seen[string(shape)]
		assert.False(t, twice, "%v looks like %v", study.PlaceState(st), was)
		seen[string(shape)] = study.PlaceState(st)
	}
}

func BenchmarkPaintPlaces(b *testing.B) {
	at := r3.Vec{X: -210, Y: 470, Z: 500}
	s := NewPlaceSheet(Plan, mapOf(Plan, at))
	tr := Eye{At: at, Scale: 1}.Transform(Plan, Size{W: 624, H: 316})
	x0, y0, x1, y1 := s.Room(tr)
	img := image.NewNRGBA(image.Rect(0, 0, int(x1-x0), int(y1-y0)))
	var marks PlaceMarks
	b.Run("paint", func(b *testing.B) {
		for b.Loop() {
			s.Paint(img, tr, x0, y0, 1, ink.Light, &marks)
		}
	})
	b.Run("words", func(b *testing.B) {
		for b.Loop() {
			s.PlaceWords(tr, paper.Measure)
		}
	})
}
