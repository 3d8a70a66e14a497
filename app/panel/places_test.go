package panel

import (
	"testing"
	"time"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/job"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func init() { placesFine = 40 }

// sitting is the panel in a window, and what it had the views shade.
type sitting struct {
	*worked
	k     *Places
	shown []*study.Places
	laid  int
}

func openPlaces(t *testing.T) *sitting {
	t.Helper()
	s := &sitting{worked: openWorked(t, "orchard-sprayer")}
	s.h.ShowPlaces = func(p *study.Places) { s.shown = append(s.shown, p) }
	s.h.Taping = func() { s.laid++ }
	s.k = NewPlaces(s.h)
	w := test.NewTempWindow(t, s.k.Object)
	w.Resize(fyne.NewSize(410, 200))
	return s
}

// settle runs what is posted till nothing is worked out.
func (s *sitting) settle(t *testing.T) {
	t.Helper()
	end := time.After(time.Minute)
	for s.k.run.busy {
		select {
		case f := <-s.post:
			f()
		case <-end:
			t.Fatal("it never ends")
		}
	}
	for len(s.post) > 0 {
		s.post.run()
	}
}

func (s *sitting) last() *study.Places {
	if len(s.shown) == 0 {
		return nil
	}
	return s.shown[len(s.shown)-1]
}

func TestPlacesOfTheHeldPivot(t *testing.T) {
	s := openPlaces(t)
	s.k.Toggle()
	assert.False(t, s.k.IsOn(), "nothing is held")
	p := pivotNamed(t, s.d, "Panhard rod, axle end")
	s.d.Hold(p)
	s.k.Toggle()
	require.True(t, s.k.IsOn())
	assert.Equal(t, "Where Panhard rod, axle end could sit", s.k.Texts()[0])
	assert.Contains(t, s.k.Texts()[2], "Working out")
	s.settle(t)
	require.NotNil(t, s.last())
	assert.True(t, s.last().Done)
	assert.GreaterOrEqual(t, len(s.shown), 2, "coarse first")
	words := s.k.Texts()
	for _, l := range words {
		refuseWords(t, l)
	}
	assert.Contains(t, words[1], "Here: hits: Panhard rod / tank shelf, 29 mm in")
	assert.Contains(t, words[2], "Borders to 40 mm; proved")
	assert.Positive(t, s.laid)

	// Another pivot: the old one's shading goes at once.
	other := pivotNamed(t, s.d, "Lower left, axle end")
	s.d.Hold(other)
	s.k.Update(document.SelectionChanged)
	assert.Nil(t, s.last())
	s.settle(t)
	require.NotNil(t, s.last())
	assert.Equal(t, other, s.last().Pivot)
	assert.Contains(t, s.k.Texts()[1], "From here free")

	// Let go of, it is off, and what comes late is not shown.
	s.d.LetGo()
	s.k.Update(document.SelectionChanged)
	assert.False(t, s.k.IsOn())
	assert.Nil(t, s.last())
	assert.Empty(t, s.k.Texts())
}

// While a hand moves the pivot its shading stays; it is worked out again when it is put down. Something else changed takes it away at once.
func TestPlacesWhileThingsMove(t *testing.T) {
	s := openPlaces(t)
	p := pivotNamed(t, s.d, "Panhard rod, axle end")
	s.d.Hold(p)
	s.k.Toggle()
	s.settle(t)
	first := s.last()
	require.NotNil(t, first)
	at, _ := edit.At(s.d.Current(), p)
	s.d.BeginDrag("move")
	require.NoError(t, s.d.DragPivot(p, r3.Add(at, r3.Vec{Z: -30})))
	s.k.Update(document.JobChanged)
	assert.Same(t, first, s.last())
	assert.Contains(t, s.k.Texts()[2], "before")
	s.d.Commit()
	s.k.Update(document.JobChanged)
	assert.Same(t, first, s.last(), "only where it is has changed")
	s.d.Settle()
	s.k.Update(document.StudyChanged)
	s.settle(t)
	require.NotSame(t, first, s.last())
	assert.InDelta(t, at.Z-30, s.last().At.Z, 1e-9)

	q := pivotNamed(t, s.d, "Panhard rod, frame end")
	far, _ := edit.At(s.d.Current(), q)
	require.NoError(t, s.d.Edit("move the other", "", func(j *job.Job) error { return edit.Move(j, q, r3.Add(far, r3.Vec{X: 5})) }))
	s.k.Update(document.JobChanged)
	assert.Nil(t, s.last())
	s.k.Off()
	assert.False(t, s.k.IsOn())
}

// Where there is no travel to look over it says why.
func TestPlacesRefused(t *testing.T) {
	s := openPlaces(t)
	require.NoError(t, s.d.Edit("free the travel", "", func(j *job.Job) error {
		j.Travel, j.Stops, j.Straps = nil, nil, nil
		for i := range j.Struts {
			j.Struts[i].Closed, j.Struts[i].Open = nil, nil
		}
		return nil
	}))
	s.d.Settle()
	s.d.Hold(pivotNamed(t, s.d, "Panhard rod, axle end"))
	s.k.Toggle()
	s.settle(t)
	assert.Contains(t, s.k.Texts()[1], "Nothing bounds the travel")
	assert.Nil(t, s.last())
}

func pivotNamed(t *testing.T, d *document.Document, name string) document.Pivot {
	t.Helper()
	for _, p := range edit.Pivots(d.Current()) {
		if edit.Name(d.Current(), p) == name {
			return p
		}
	}
	t.Fatalf("no pivot %q", name)
	return document.Pivot{}
}
