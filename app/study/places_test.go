package study

import (
	"bytes"
	"context"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"axleloft/app/edit"
	"axleloft/assets"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func placesDemo(t testing.TB, name string) *job.Job {
	t.Helper()
	j, err := job.Read(bytes.NewReader(assets.Demo(name)))
	require.NoError(t, err)
	return j
}

func placesPivot(t testing.TB, j *job.Job, name string) edit.Pivot {
	t.Helper()
	for _, p := range edit.Pivots(j) {
		if edit.Name(j, p) == name {
			return p
		}
	}
	t.Fatalf("no pivot %q", name)
	return edit.Pivot{}
}

// What a search says of a place is what a whole study of the changed job says, but for places within half a millimetre of a border and for what only the study's finer grid comes upon.
func TestPlacesAreAsWholeStudiesHaveThem(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	ctx := context.Background()
	places := 8
	if testing.Short() {
		places = 3
	}
	var seen [PlaceStates]int
	for _, name := range assets.Demos() {
		s := New(ctx, placesDemo(t, name), Full)
		all := edit.Pivots(s.Job)
		for range places {
			p := all[rng.IntN(len(all))]
			for p.List != edit.Links {
				p = all[rng.IntN(len(all))]
			}
			k, err := s.places(p)
			require.NoError(t, err)
			at, _ := edit.At(s.Job, p)
			to := r3.Add(at, r3.Vec{X: 160 * (rng.Float64() - 0.5), Y: 80 * (rng.Float64() - 0.5), Z: 160 * (rng.Float64() - 0.5)})
			got, err := k.exact(ctx, to)
			require.NoError(t, err)
			if got.State == PlaceNot {
				continue
			}
			seen[got.State]++
			what := name + " " + edit.Name(s.Job, p) + " " + s.PlaceWords(&got)
			j := k.from.Clone()
			require.NoError(t, edit.Move(j, p, to))
			full := New(ctx, j, Full)
			hit, want, proved := math.Inf(1), math.Inf(1), true
			for i, f := range k.floors(full) {
				if !math.IsNaN(f.Wanted) {
					g := full.Smallest[i].Gap.Gap
					hit, want = math.Min(hit, g-f.Zero), math.Min(want, g-f.Wanted)
					proved = proved && full.Smallest[i].Why == ""
				}
			}
			const near = 0.5 // mm, what the study's proofs leave open
			switch got.State {
			case PlaceHits:
				assert.Less(t, hit, near, what)
			case PlaceTight:
				assert.Less(t, want, near, what)
				assert.Greater(t, hit, -near, what)
			case PlaceFree:
				assert.Greater(t, want, -near, what)
				assert.Empty(t, k.runsOut(full, &full.Extents), what)
			case PlaceRunsOut:
				assert.NotEmpty(t, k.runsOut(full, &full.Extents), what)
			}
			if got.Proved {
				assert.LessOrEqual(t, got.State, PlaceTight, what)
			}
		}
	}
	assert.Positive(t, seen[PlaceFree], seen)
	assert.Positive(t, seen[PlaceTight], seen)
	assert.Positive(t, seen[PlaceHits], seen)
}

// overBox is a rod over the flat top of a wide box, on an axle that all but stands still: the gap is the lower of its two ends less half its diameter.
func overBox(t testing.TB) (j *job.Job, p edit.Pivot, top, radius float64) {
	j = placesDemo(t, "orchard-sprayer")
	p = placesPivot(t, j, "Panhard rod, frame end")
	frame, _ := edit.At(j, p)
	other, _ := edit.At(j, edit.Pivot{List: p.List, Index: p.Index, End: edit.AxleEnd})
	l := &j.Links[p.Index]
	require.NotNil(t, l.Tube)
	radius = l.Tube.Outside / 2
	l.Bends, l.Clearance = nil, nil
	top = math.Min(frame.Z, other.Z) - radius - 60
	least := 0.01
	j.Travel = &job.Travel{Bump: &least, Droop: &least, Articulation: &least}
	j.Axle.Tube, j.Axle.Housing, j.Driveline = nil, nil, nil
	lo, hi := job.Point{frame.X - 800, -640, top - 300}, job.Point{frame.X + 800, 640, top}
	j.Envelopes = []job.Envelope{{Name: "Box", Kind: "box", Min: &lo, Max: &hi}}
	for i := range j.Links {
		if i != p.Index {
			j.Links[i].Tube = nil
		}
	}
	return j, p, top, radius
}

func TestPlacesOverABox(t *testing.T) {
	j, p, top, radius := overBox(t)
	s := New(context.Background(), j, Full)
	require.True(t, s.Bounded(), s.RangeNote+s.Refusal)
	other, _ := edit.At(j, edit.Pivot{List: p.List, Index: p.Index, End: edit.AxleEnd})
	last := 0
	q, err := s.Places(context.Background(), p, 2*placeTried, func(q *Places) {
		assert.GreaterOrEqual(t, q.Looked, last)
		last = q.Looked
	})
	require.NoError(t, err)
	require.True(t, q.Done)
	assert.Equal(t, 2*placeTried, q.Finest)
	wanted := 25.0
	rear := q.Maps[1]
	require.Equal(t, [2]edit.Axis{edit.Y, edit.Z}, [2]edit.Axis{rear.U, rear.V})
	var seen [PlaceStates]int
	area := 0.0
	for _, c := range rear.Cells {
		area += c.Size * c.Size
		gap := math.Min(c.V, other.Z) - radius - top
		if c.State > PlaceTight && c.State != PlaceHits { // a joint turned too far
			continue
		}
		seen[c.State]++
		const near = 0.3
		switch {
		case gap > wanted+near:
			assert.Equal(t, PlaceFree, c.State, "%v %v: %s", c.U, c.V, s.PlaceWords(&c.Place))
		case gap > near && gap < wanted-near:
			assert.Equal(t, PlaceTight, c.State, "%v %v: %s", c.U, c.V, s.PlaceWords(&c.Place))
		case gap < -near:
			assert.Equal(t, PlaceHits, c.State, "%v %v: %s", c.U, c.V, s.PlaceWords(&c.Place))
		}
	}
	for _, state := range []PlaceState{PlaceFree, PlaceTight, PlaceHits} {
		assert.Positive(t, seen[state], state)
	}
	side := 2*PlaceReach + placeCoarse
	assert.InDelta(t, side*side, area, 1e-6, "the squares cover the map, once")
	for i := range q.Ways {
		if w := &q.Ways[i]; w.Axis == edit.Z && w.Sign < 0 {
			assert.InDelta(t, q.At.Z-radius-top-wanted, w.Far, 1+1e-6)
			assert.True(t, w.End)
			assert.Equal(t, PlaceTight, w.By.State)
		}
	}
	assert.Contains(t, q.HereWords(), " down")
	assert.Contains(t, q.HowWords(), "Borders to 20")
	borders(t, q)
}

// borders: a border between squares in different states is nowhere drawn by squares wider than the last.
func borders(t *testing.T, q *Places) {
	for _, m := range q.Maps {
		for i := range m.Cells {
			a := &m.Cells[i]
			if a.Size == q.Finest {
				continue
			}
			for k := range m.Cells {
				b := &m.Cells[k]
				far := math.Max(math.Abs(a.U-b.U), math.Abs(a.V-b.V))
				if far < (a.Size+b.Size)/2+1e-6 && a.State != b.State {
					t.Errorf("%v,%v beside %v,%v: %v, %v", a.U, a.V, b.U, b.V, a.State, b.State)
				}
			}
		}
	}
}

func TestPlacesAreGivenUp(t *testing.T) {
	s := New(context.Background(), placesDemo(t, "orchard-sprayer"), Full)
	p := placesPivot(t, s.Job, "Panhard rod, axle end")
	ctx, stop := context.WithCancel(context.Background())
	_, err := s.Places(ctx, p, PlaceFine, func(*Places) { stop() })
	assert.ErrorIs(t, err, context.Canceled)
	_, err = s.Places(context.Background(), edit.Pivot{List: edit.Links, Index: 99}, PlaceFine, nil)
	require.Error(t, err)
	assert.Contains(t, err.Error(), "no longer in the job")
	j := placesDemo(t, "orchard-sprayer")
	j.Travel, j.Stops, j.Straps = nil, nil, nil
	for i := range j.Struts {
		j.Struts[i].Closed, j.Struts[i].Open = nil, nil
	}
	_, err = New(context.Background(), j, Full).Places(context.Background(), p, PlaceFine, nil)
	require.Error(t, err)
	assert.Contains(t, err.Error(), "bounds the travel")
}

func BenchmarkPlaces(b *testing.B) {
	for _, k := range [][2]string{{"orchard-sprayer", "Panhard rod, axle end"}, {"rescue-tender", "Upper left, frame end"}, {"survey-wagon", "Upper left, frame end"}} {
		s := New(context.Background(), placesDemo(b, k[0]), Full)
		s.workers = 1
		p := placesPivot(b, s.Job, k[1])
		b.Run(k[0], func(b *testing.B) {
			for b.Loop() {
				start := time.Now()
				ctx, stop := context.WithCancel(context.Background())
				first, ten := 0.0, 0.0
				_, _ = s.Places(ctx, p, PlaceFine, func(q *Places) {
					if first == 0 {
						first = time.Since(start).Seconds()
					}
					if q.Finest <= placeTried {
						ten = time.Since(start).Seconds()
						stop()
					}
				})
				stop()
				b.ReportMetric(first, "s/first")
				b.ReportMetric(ten, "s/to-10-mm")
			}
		})
		f, err := s.places(p)
		require.NoError(b, err)
		at, _ := edit.At(s.Job, p)
		b.Run(k[0]+"/rough", func(b *testing.B) {
			for b.Loop() {
				_, _ = f.rough(context.Background(), at)
			}
		})
		b.Run(k[0]+"/exact", func(b *testing.B) {
			for b.Loop() {
				_, _ = f.exact(context.Background(), at)
			}
		})
	}
}

// Other things may change while a pivot's room stays that of the job: only where the pivot itself is.
func TestPlacesHoldForTheJobWhereverThePivotIs(t *testing.T) {
	s := New(context.Background(), placesDemo(t, "orchard-sprayer"), Full)
	p := placesPivot(t, s.Job, "Panhard rod, axle end")
	q := &Places{Pivot: p, Study: s}
	q.At, _ = edit.At(s.Job, p)
	assert.False(t, q.Differs(s.Job))
	j := s.Job.Clone()
	require.NoError(t, edit.Move(j, p, r3.Add(q.At, r3.Vec{X: 3, Z: -20})))
	assert.False(t, q.Differs(j))
	require.NoError(t, edit.Type(j, p, edit.X, "-200"))
	assert.False(t, q.Differs(j))
	j.Envelopes[0].Name += " two"
	assert.True(t, q.Differs(j))
	j = s.Job.Clone()
	other := placesPivot(t, j, "Panhard rod, frame end")
	at, _ := edit.At(j, other)
	require.NoError(t, edit.Move(j, other, r3.Add(at, r3.Vec{X: 1})))
	assert.True(t, q.Differs(j))
}

// Where it is in the way is said in words, and each way in its own.
func TestPlacesInWords(t *testing.T) {
	s := New(context.Background(), placesDemo(t, "orchard-sprayer"), Full)
	free := &Places{Study: s, Pivot: placesPivot(t, s.Job, "Lower left, axle end"), At: r3.Vec{Y: 500}}
	for _, a := range []edit.Axis{edit.Z, edit.X, edit.Y} {
		free.Ways = append(free.Ways, PlaceWay{Axis: a, Sign: 1, Far: 34.6, End: true}, PlaceWay{Axis: a, Sign: -1, Far: PlaceReach})
	}
	assert.Equal(t, "From here free, mm: 34 up, over 200 down, 34 ahead, over 200 behind, 34 out, over 200 in.", free.HereWords())
	free.Pivot.Side = job.Single
	assert.Contains(t, free.HereWords(), "34 left, over 200 right.")
	free.Here = Place{State: PlaceHits, A: "Panhard rod", B: "Tank shelf", Gap: -29, Left: 109, Right: 109}
	assert.Equal(t, "Here: hits: Panhard rod / tank shelf, 29 mm in, both wheels up. Free from, mm: 35 up, 35 ahead, 35 left.", free.HereWords())
	free.Ways = free.Ways[1:2]
	assert.Contains(t, free.HereWords(), "Not free within 200 mm straight up, down, or to any side.")
	free.Ways = nil
	free.Here = Place{State: PlaceTight, A: "Panhard rod", B: "Tank shelf", Gap: 12, Wanted: 25}
	assert.Equal(t, "Here: tight: Panhard rod / tank shelf, 12 of 25 mm wanted, at ride height.", free.HereWords())
	free.Here = Place{State: PlaceRunsOut, Why: "Upper, frame end is past its limit"}
	assert.Equal(t, "free; no worse than now: Panhard rod / tank shelf, −29 mm", s.PlaceWords(&Place{State: PlaceFree, A: "Panhard rod", B: "Tank shelf", Gap: -29, Wanted: 25}))
	assert.Equal(t, "Here: runs out: Upper, frame end is past its limit.", free.HereWords())
}
