package bench

import (
	"fmt"
	"image/color"
	"math"
	"strings"
	"testing"

	"axleloft/app/look"
	"axleloft/app/panel"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// box2 is an upright box in the window.
type box2 struct{ x0, y0, x1, y1 float32 }

func (b box2) cut(c box2) box2 {
	return box2{max(b.x0, c.x0), max(b.y0, c.y0), min(b.x1, c.x1), min(b.y1, c.y1)}
}
func (b box2) empty() bool { return b.x1 <= b.x0 || b.y1 <= b.y0 }

// gap is how far two boxes are apart; less than 0 where they overlap.
func (b box2) gap(c box2) float32 {
	dx := max(c.x0-b.x1, b.x0-c.x1)
	dy := max(c.y0-b.y1, b.y0-c.y1)
	return max(dx, dy)
}

// walk calls f for everything that is shown, with the part of its box that nothing it scrolls in cuts off. Where f says false it goes no deeper.
func walk(o fyne.CanvasObject, at fyne.Position, clip box2, f func(fyne.CanvasObject, box2, box2) bool) {
	if o == nil || !o.Visible() {
		return
	}
	s := o.Size()
	whole := box2{at.X, at.Y, at.X + s.Width, at.Y + s.Height}
	seen := whole.cut(clip)
	if !f(o, whole, seen) {
		return
	}
	var inside []fyne.CanvasObject
	switch x := o.(type) {
	case *fyne.Container:
		inside = x.Objects
	case *container.Scroll:
		clip = seen
		inside = test.WidgetRenderer(x).Objects()
	case fyne.Widget:
		inside = test.WidgetRenderer(x).Objects()
	}
	for _, c := range inside {
		walk(c, at.Add(c.Position()), clip, f)
	}
}

// drawn writes out every line, box and word that an object shows, and gives the colours of those.
func drawn(o fyne.CanvasObject) map[string]color.Color {
	out := map[string]color.Color{}
	walk(o, fyne.Position{}, box2{-1e6, -1e6, 1e6, 1e6}, func(x fyne.CanvasObject, b, _ box2) bool {
		switch p := x.(type) {
		case *canvas.Rectangle:
			if p.StrokeWidth > 0 {
				out[fmt.Sprint("edge", b, p.StrokeWidth, p.StrokeColor)] = p.StrokeColor
			}
			out[fmt.Sprint("fill", b, p.FillColor)] = p.FillColor
		case *canvas.Line:
			out[fmt.Sprint("line", b, p.StrokeWidth, p.StrokeColor)] = p.StrokeColor
		case *canvas.Circle:
			out[fmt.Sprint("circle", b, p.StrokeWidth, p.StrokeColor, p.FillColor)] = p.StrokeColor
		}
		return true
	})
	return out
}

// ratio is the contrast of two colours by their relative luminance (WCAG 2.2, "contrast ratio"; from memory).
func ratio(a, b color.Color) float64 {
	lum := func(c color.Color) float64 {
		n := color.NRGBAModel.Convert(c).(color.NRGBA)
		part := func(v uint8) float64 {
			s := float64(v) / 255
			if s <= 0.04045 {
				return s / 12.92
			}
			return math.Pow((s+0.055)/1.055, 2.4)
		}
		return 0.2126*part(n.R) + 0.7152*part(n.G) + 0.0722*part(n.B)
	}
	x, y := lum(a), lum(b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

// openQuiet makes the window as open does; what is worked out aside comes in only when settle is called, on the test's own goroutine.
func openQuiet(t *testing.T) (b *Bench, settle func()) {
	t.Helper()
	a := test.NewTempApp(t)
	a.Preferences().SetBool(keyCaution, true)
	come := make(chan func(), 4096)
	b = build(a, Options{}, func(f func()) { come <- f }, true)
	b.Start()
	t.Cleanup(b.doc.Close)
	b.doc.Settle()
	return b, func() {
		for {
			select {
			case f := <-come:
				f()
			default:
				return
			}
		}
	}
}

// situations puts the window into everything that can stand open in it, one after the other.
func situations(t *testing.T, b *Bench, settle func(), w, h float32, f func(name string)) {
	t.Helper()
	for _, held := range []bool{false, true} {
		for d := panel.NoDrawer; d <= panel.LastDrawer; d++ {
			if held && d != panel.NoDrawer && d != panel.PartsDrawer {
				continue
			}
			b.doc.LetGo()
			if held {
				hold(b)
			}
			b.show(d)
			b.win.Resize(fyne.NewSize(w, h))
			b.root.Resize(fyne.NewSize(w, h))
			settle()
			f(fmt.Sprintf("held %v, drawer %v", held, d))
		}
	}
	b.doc.LetGo()
	b.show(panel.NoDrawer)
}

// Tab reaches everything that takes keys, and what has them shows it by a line or an edge of 3:1 at least.
func TestTabReachesEverythingAndIsSeen(t *testing.T) {
	b, settle := openQuiet(t)
	c := b.win.Canvas()
	seenKinds := map[string]bool{}
	situations(t, b, settle, 1366, 688, func(name string) {
		want := map[fyne.Focusable]bool{}
		walk(b.root, fyne.Position{}, box2{0, 0, 1366, 688}, func(o fyne.CanvasObject, _, _ box2) bool {
			f, ok := o.(fyne.Focusable)
			if d, is := o.(fyne.Disableable); ok && !(is && d.Disabled()) {
				want[f] = true
			}
			return true
		})
		c.Unfocus()
		reached := map[fyne.Focusable]bool{}
		for range 400 {
			c.FocusNext()
			f := c.Focused()
			require.NotNil(t, f)
			if reached[f] {
				break
			}
			reached[f] = true
		}
		for f := range want {
			assert.True(t, reached[f], "%s: %T is not reached", name, f)
		}
		for f := range reached {
			kind := fmt.Sprintf("%T", f)
			if seenKinds[kind] {
				continue
			}
			seenKinds[kind] = true
			c.Focus(f)
			f.TypedKey(&fyne.KeyEvent{Name: fyne.KeyF1})
			if assert.Len(t, b.boxes, 1, "F1 opens the keys from %s", kind) {
				b.escape()
			}
			for s := ink.Light; s < ink.Schemes; s++ {
				look.SetScheme(s)
				c.Unfocus()
				o := f.(fyne.CanvasObject)
				o.Refresh()
				before := drawn(o)
				c.Focus(f)
				best := 0.0
				for key, col := range drawn(o) {
					if _, was := before[key]; was || col == nil {
						continue
					}
					if _, _, _, a := col.RGBA(); a < 0xF000 {
						continue
					}
					best = max(best, ratio(col, look.Color(ink.Panel)))
				}
				assert.GreaterOrEqual(t, best, 3.0, "%s: %s, scheme %d: what shows that it has the keys", name, kind, s)
			}
			look.SetScheme(ink.Light)
		}
	})
	t.Log(len(seenKinds), "kinds:", seenKinds)
}

// inked is where a button draws something: its frame, else its words.
func inked(b *look.Button, at fyne.Position, clip box2) box2 {
	out := box2{1e6, 1e6, -1e6, -1e6}
	walk(b, at, clip, func(o fyne.CanvasObject, _, seen box2) bool {
		shows := false
		switch p := o.(type) {
		case *canvas.Rectangle:
			shows = p.StrokeWidth > 0 && p.StrokeColor != look.Clear || p.FillColor != nil && p.FillColor != look.Clear
		case *canvas.Text:
			shows = p.Text != ""
		}
		if shows && !seen.empty() {
			out = box2{min(out.x0, seen.x0), min(out.y0, seen.y0), max(out.x1, seen.x1), max(out.y1, seen.y1)}
		}
		return true
	})
	return out
}

// What is pressed is large enough and apart: 48 high in the bars, 40 in the rows of readings, nowhere under 24 (WCAG 2.2, 2.5.8); nothing lies over
// something else that is pressed but what belongs to it, and two buttons are drawn 8 apart at least.
func TestHitAreas(t *testing.T) {
	const least, bar, row, apart = 24, 48, 40, 8
	b, settle := openQuiet(t)
	for _, size := range [][2]float32{{1366, 688}, {1093, 550}, {976, 491}, {960, 488}} {
		situations(t, b, settle, size[0], size[1], func(name string) {
			window := box2{0, 0, size[0], size[1]}
			for _, part := range []fyne.CanvasObject{b.top, b.tight} {
				walk(part, part.Position(), window, func(o fyne.CanvasObject, whole, _ box2) bool {
					if _, ok := o.(fyne.Tappable); ok {
						assert.GreaterOrEqual(t, whole.y1-whole.y0, float32(bar)-0.1, "%s: %T", name, o)
					}
					return true
				})
			}
			walk(b.readings.Object, b.readings.Object.Position(), window, func(o fyne.CanvasObject, whole, _ box2) bool {
				if _, ok := o.(fyne.Tappable); ok {
					assert.GreaterOrEqual(t, whole.y1-whole.y0, float32(row), "%s: %T", name, o)
				}
				return true
			})
			type hit struct {
				name string
				box  box2
				ink  *box2
			}
			var hits []hit
			walk(b.root, fyne.Position{}, window, func(o fyne.CanvasObject, whole, seen box2) bool {
				kind := fmt.Sprintf("%T", o)
				if _, ok := o.(fyne.Tappable); !ok || seen.empty() || strings.Contains(kind, "scroll") {
					return true
				}
				h := hit{name: kind, box: seen}
				if x, ok := o.(*look.Button); ok {
					k := inked(x, fyne.NewPos(whole.x0, whole.y0), seen)
					h.name, h.ink = h.name+" "+x.Text(), &k
				}
				if seen == whole {
					assert.GreaterOrEqual(t, min(seen.x1-seen.x0, seen.y1-seen.y0), float32(least), "%v %s: %s", size, name, h.name)
				}
				hits = append(hits, h)
				return true
			})
			require.Greater(t, len(hits), 20)
			for i, x := range hits {
				for _, y := range hits[i+1:] {
					if both := x.box.cut(y.box); both == x.box || both == y.box { // one belongs to the other
						continue
					}
					assert.GreaterOrEqual(t, x.box.gap(y.box), float32(-0.6), "%v %s: %s over %s", size, name, x.name, y.name)
					if x.ink != nil && y.ink != nil {
						assert.GreaterOrEqual(t, x.ink.gap(*y.ink), float32(apart)-0.1, "%v %s: %s and %s", size, name, x.name, y.name)
					}
				}
			}
		})
	}
}
