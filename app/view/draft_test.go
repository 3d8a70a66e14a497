package view

import (
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// on sets a point of a draft with steps of 5 mm.
func on(d *Draft, p Plane, right, up float64) DraftStep {
	return d.Press(p, p.Shift(r3.Vec{}, right, up), 5, 20, 13)
}

func TestABoxIsTwoCornersAndWhatItsViewDoesNotShow(t *testing.T) {
	d := NewDraft(DraftBox, false)
	assert.Contains(t, d.Words(Side, false), "press a corner")
	assert.Equal(t, "Or draw it here.", d.Words(Rear, true))
	assert.Equal(t, DraftGoesOn, on(d, Side, -902, 561))
	assert.Contains(t, d.Words(Plan, false), "Goes on in the side view")
	on(d, Side, -900, 700)
	assert.Contains(t, d.Said, "no size that way")
	on(d, Plan, -500, 700)
	assert.Contains(t, d.Said, "drawn in the side view")
	d.Hover(Side, r3.Vec{X: -500, Z: 760}, 5)
	assert.Equal(t, []string{"X −500  Z 760 mm", "400 x 200 mm"}, d.Readout(Side))
	on(d, Side, -500, 760)
	require.True(t, d.Deep())
	assert.Contains(t, d.Words(Side, false), "Enter takes −90 to 110 mm", "as thick as the smaller size, about where the eye looks")
	// Its ends along Y in the rear view, right being to the right of the vehicle.
	on(d, Rear, -150, 0)
	assert.Contains(t, d.Words(Rear, false), "where it ends in Y")
	assert.Contains(t, d.Words(Side, false), "its other end")
	d.Hover(Rear, r3.Vec{Y: -80}, 5)
	assert.Equal(t, []string{"Y −80 to 150, 230 mm"}, d.Readout(Rear))
	loop, closed := d.Loop(nil, Rear)
	assert.True(t, closed)
	assert.Equal(t, r3.Vec{X: -900, Y: -80, Z: 560}, loop[0])
	on(d, Rear, -150, 9)
	assert.Contains(t, d.Said, "no thickness")
	assert.Equal(t, DraftDone, on(d, Rear, 80, 0))
	got := d.Drawn()
	assert.Equal(t, []float64{-80, 150}, []float64{got.From, got.To})
	assert.Equal(t, []r3.Vec{{X: -900, Z: 560}, {X: -500, Z: 760}}, got.Points)
	labels, now := d.Asks()
	assert.Equal(t, []string{"Y from, mm", "Y to, mm"}, labels)
	assert.Equal(t, []string{"-80", "150"}, now)
}

func TestByKeysACrossIsLedAndEnterSetsIt(t *testing.T) {
	d := NewDraft(DraftOutline, false)
	d.Enter(Rear, 20, 0)
	assert.Contains(t, d.Said, "arrows first")
	for _, by := range [][2]float64{{0, 0}, {100, 0}, {0, 100}} {
		d.Nudge(Rear, r3.Vec{X: 7, Y: 40, Z: 600}, by[0], by[1])
		assert.Equal(t, DraftGoesOn, d.Enter(Rear, 20, 0))
	}
	assert.Equal(t, []r3.Vec{{X: 7, Y: 40, Z: 600}, {X: 7, Y: -60, Z: 600}, {X: 7, Y: -60, Z: 700}}, d.pts)
	assert.False(t, d.Deep())
	assert.Equal(t, DraftGoesOn, d.Enter(Rear, 20, 0), "nothing led since: it closes")
	require.True(t, d.Deep())
	assert.Equal(t, DraftDone, d.Enter(Rear, 20, 0), "and takes the third axis as it stands")
	assert.Equal(t, "rear", d.Drawn().Plane)
	assert.True(t, d.Back(), "the ends")
	assert.True(t, d.Back(), "the closing")
	assert.False(t, d.Deep())
	for range 3 {
		assert.True(t, d.Back())
	}
	assert.False(t, d.Back())
}

func TestAnOutlineClosesOnItsFirstCorner(t *testing.T) {
	d := NewDraft(DraftOutline, false)
	for _, p := range [][2]float64{{0, 0}, {300, 0}, {300, 200}} {
		on(d, Plan, p[0], p[1])
	}
	on(d, Plan, 150, -40)
	assert.Contains(t, d.Said, "cross or touch itself")
	assert.Len(t, d.pts, 3)
	on(d, Plan, 8, 6)
	assert.True(t, d.Deep())
	assert.Equal(t, DraftType, on(d, Plan, 0, 0), "a press in its own view asks for figures")
	labels, _ := d.Asks()
	assert.Equal(t, "Z from, mm", labels[0])
}

func TestAPipeAsksItsDiameterAndABallItsMiddle(t *testing.T) {
	d := NewDraft(DraftPipe, true)
	on(d, Side, 0, 600)
	assert.Equal(t, DraftGoesOn, d.Enter(Side, 20, 0))
	assert.Contains(t, d.Said, "at least two points")
	on(d, Side, 0, 600)
	assert.Contains(t, d.Said, "where the last point is")
	on(d, Side, 400, 600)
	d.Enter(Side, 20, 0)
	require.True(t, d.Deep())
	assert.Equal(t, DraftType, on(d, Plan, 9, -250))
	labels, now := d.Asks()
	assert.Equal(t, []string{"Y of its centre line, in", "Outside diameter, in"}, labels)
	assert.Equal(t, []string{"-9.84252", "2.5"}, now)

	d = NewDraft(DraftBall, false)
	on(d, Rear, 100, 600)
	on(d, Rear, 130, 640)
	assert.Equal(t, 50.0, d.Drawn().Radius)
	middle, r, ok := d.Round()
	assert.True(t, ok)
	assert.Equal(t, 50.0, r)
	assert.Equal(t, r3.Vec{X: 10, Y: -100, Z: 600}, middle)
	assert.Equal(t, DraftDone, d.Enter(Rear, 20, 0))
}

// Whatever is pressed, an outline that closes is one that the job takes, and Escape is always possible: nothing but the draft has changed.
func TestADrawnOutlineIsAlwaysOneThatCanBe(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := NewDraft(DraftOutline, false)
		for range rapid.IntRange(1, 25).Draw(t, "presses") {
			switch rapid.IntRange(0, 9).Draw(t, "what") {
			case 0:
				d.Enter(Side, 20, 0)
			case 1:
				d.Back()
			default:
				on(d, Side, rapid.Float64Range(0, 300).Draw(t, "x"), rapid.Float64Range(0, 300).Draw(t, "z"))
			}
			if d.Deep() {
				if _, _, ok := job.Crossing(d.flat()); !ok {
					t.Fatalf("%v crosses itself", d.pts)
				}
			}
			row := d.flat()
			for i := 1; i < len(row); i++ {
				if job.CrossingNext(row[:i], row[i]) {
					t.Fatalf("corner %d of %v crosses what was before", i, row)
				}
			}
		}
	})
}
