package view

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
	"axleloft/plotting/paper"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// layouts are the jobs of every layout.
func layouts(t *testing.T) map[string]*study.Study {
	t.Helper()
	files, err := filepath.Glob("../../testdata/layouts/*.axleloft")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	out := map[string]*study.Study{}
	for _, name := range files {
		f, err := os.Open(name)
		require.NoError(t, err)
		j, err := job.Read(f)
		f.Close()
		require.NoError(t, err, name)
		out[filepath.Base(name)] = study.Compile(j)
	}
	return out
}

// Every member of every layout is drawn in every view, with a handle for each of its pivots where it stands, and nothing of it is not a number.
func TestEveryMemberOfEveryLayoutIsDrawn(t *testing.T) {
	for name, s := range layouts(t) {
		e := FitAll(s, sizes)
		var pos *study.Position
		if s.Mech != nil {
			pos = at(t, s, 40, -30)
		}
		for p := Side; p <= Plan; p++ {
			sc := New(Input{Plane: p, Now: s, At: pos})
			tr := e.Transform(p, sizes[p])
			pic := sc.Picture(tr, paper.Measure, nil)
			seen := map[string]bool{}
			for _, it := range pic.Items {
				seen[it.Name] = true
				for _, pt := range it.Points {
					require.False(t, math.IsNaN(pt.X+pt.Y) || math.IsInf(pt.X+pt.Y, 0), "%s: %s", name, it.Name)
				}
			}
			for _, r := range sc.runs() {
				assert.True(t, seen[r.name], "%s: %s is not drawn", name, r.name)
			}
			handles := 0
			for _, h := range sc.Handles(tr) {
				if h.Wheel == job.Single && !h.Ride {
					handles++
				}
			}
			assert.Len(t, edit.Pivots(sc.job), handles, name)
		}
	}
}

// Where the axle stands, the pivots of a link, an arm and a rod lie at the ends of its line, and at ride height everything is where the file has it.
func TestMembersEndAtTheirPivots(t *testing.T) {
	for name, s := range layouts(t) {
		if s.Mech == nil {
			continue
		}
		ride := newStage(s, at(t, s, 0, 0))
		for _, x := range edit.Pivots(ride.job) {
			p, _ := edit.At(ride.job, x)
			assert.InDelta(t, 0, r3.Norm(r3.Sub(ride.place(x), p)), 1e-6, "%s: %s at ride", name, edit.Name(ride.job, x))
		}
		st := newStage(s, at(t, s, 55, -20))
		for i := range st.job.Links {
			k := st.knots(i)
			for n := 1; n < len(k); n++ { // a bent link keeps the length of each of its pieces
				rest := newStage(s, nil)
				was := rest.knots(i)
				assert.InDelta(t, r3.Norm(r3.Sub(was[n], was[n-1])), r3.Norm(r3.Sub(k[n], k[n-1])), 12, "%s: %s", name, st.job.Links[i].Name)
			}
		}
		for i := range st.job.Rockers {
			for k := range st.job.Rockers[i].Rods {
				near, far := st.rod(i, k)
				assert.InDelta(t, s.Mech.Rockers[i].Rods[k].Length, r3.Norm(r3.Sub(near, far)), 3, "%s: a rod is as long as it is", name)
			}
		}
		for i := range st.job.Sensors {
			k := st.sensor(i)
			lever := r3.Norm(r3.Sub(st.job.Sensors[i].Lever.Vec(), st.job.Sensors[i].Shaft.Vec()))
			assert.InDelta(t, lever, r3.Norm(r3.Sub(k[1], k[0])), 1e-6, name)
			if u := st.lever(i); u != nil && u.Reached {
				assert.InDelta(t, s.Mech.Sensors[i].Rod, r3.Norm(r3.Sub(k[2], k[1])), 1e-6, "%s: a sensor's rod keeps its length", name)
			}
		}
	}
}

// A pivot that a link, an arm or a rocker carries, dragged where it stands, comes under the pointer.
func TestDragOfWhatMembersCarry(t *testing.T) {
	for name, s := range layouts(t) {
		if s.Mech == nil {
			continue
		}
		pos := at(t, s, 45, -25)
		for p := Side; p <= Plan; p++ {
			sc := New(Input{Plane: p, Now: s, At: pos})
			tr := Fit(s, sizes).Transform(p, sizes[p])
			for _, h := range sc.Handles(tr) {
				if h.Wheel != job.Single || h.Ride {
					continue
				}
				var mount motion.Carrier
				for i := range sc.pivots {
					if sc.pivots[i].id == h.Pivot {
						mount = sc.pivots[i].mount
					}
				}
				d := sc.NewDrag(h, h.X, h.Y)
				to := d.To(tr, h.X+8, h.Y-6, 0)
				if mount.On == onLever && to == d.ride {
					continue // a lever seen along its plane
				}
				x, y := tr.Place(sc.stand(mount, to))
				assert.InDeltaSlice(t, []float64{h.X + 8, h.Y - 6}, []float64{x, y}, 1e-6, "%s: %v", name, h.Pivot)
			}
		}
	}
}

// The bolt in the hand follows the pointer about its pivot, by whole degrees of the view; what it lies like at ride height carries there.
func TestTurningABolt(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	pos := at(t, s, 70, -50)
	rapid.Check(t, func(rt *rapid.T) {
		p := somePlane(rt)
		list := edit.Pivots(s.Job)
		held := rapid.SampledFrom(list).Draw(rt, "held")
		sc := New(Input{Plane: p, Now: s, At: pos, Held: &held, Grips: true})
		tr := Fit(s, sizes).Transform(p, sizes[p])
		for _, h := range sc.Handles(tr) {
			if h.Bolt == 0 {
				continue
			}
			var px, py float64
			var of *pivot
			for i := range sc.pivots {
				if sc.pivots[i].id == h.Pivot {
					of = &sc.pivots[i]
				}
			}
			px, py = tr.Place(of.at)
			k, ok := sc.NewTurn(tr, h, h.X, h.Y)
			require.True(rt, ok)
			require.InDelta(rt, 0, r3.Norm(r3.Sub(k.To(h.X, h.Y, 1), k.ride)), 1e-12, "not moved")
			deg := rapid.Float64Range(-170, 170).Draw(rt, "deg")
			sn, cs := math.Sincos(deg * math.Pi / 180)
			dx, dy := h.X-px, h.Y-py // y down: anticlockwise seen is a negative turn of the picture's axes
			to := k.To(px+cs*dx+sn*dy, py-sn*dx+cs*dy, 0)
			now := sc.turn(of.mount, to)
			require.InDelta(rt, 1, r3.Norm(now), 1e-9)
			u, seen := p.along(now)
			_, before := p.along(of.bolt)
			require.InDelta(rt, before, seen, 1e-9, "turned about the view's normal as much of it is seen")
			want := point{(cs*dx + sn*dy) / gripAway, (-sn*dx + cs*dy) / gripAway}
			require.InDelta(rt, 1, (u.X*want.X+u.Y*want.Y)*float64(h.Bolt), 1e-6)
			stepped := sc.turn(of.mount, k.To(px+cs*dx+sn*dy, py-sn*dx+cs*dy, 1))
			u, _ = p.along(stepped)
			if a := math.Atan2(-u.Y, u.X) * 180 / math.Pi; k.To(px+cs*dx+sn*dy, py-sn*dx+cs*dy, 1) != k.ride {
				require.InDelta(rt, math.Round(a), a, 1e-6, "whole degrees from the view's axes")
			}
		}
	})
}

func TestBoltsSeenEndOnHaveNoGrip(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	rod := edit.Pivot{List: edit.Links, Index: len(s.Job.Links) - 1}
	grips := func(p Plane) (n int) {
		sc := New(Input{Plane: p, Now: s, At: at(t, s, 0, 0), Held: &rod, Grips: true})
		for _, h := range sc.Handles(Fit(s, sizes).Transform(p, sizes[p])) {
			if h.Bolt != 0 {
				assert.Equal(t, rod, h.Pivot)
				n++
			}
		}
		return n
	}
	assert.Equal(t, [3]int{2, 0, 2}, [3]int{grips(Side), grips(Rear), grips(Plan)}, "the Panhard rod's bolts lie fore-and-aft")
}

// Each end's bolt is drawn as a thin line through its pivot, as long as the view sees of it.
func TestEveryEndShowsItsBolt(t *testing.T) {
	s := demo(t, "orchard-sprayer")
	for p := Side; p <= Plan; p++ {
		sc := New(Input{Plane: p, Now: s, At: at(t, s, 0, 0)})
		pic := sc.Picture(FitAll(s, sizes).Transform(p, sizes[p]), paper.Measure, nil)
		lines, want := 0, 0
		for _, it := range pic.Items {
			if it.Layer == drawing.Pivots && it.Kind == drawing.Line && it.Width == thin {
				lines++
			}
		}
		for i := range sc.pivots {
			if _, seen := p.along(sc.pivots[i].bolt); seen >= nearEndOn {
				want++
			}
		}
		assert.Equal(t, want, lines)
	}
}

// loose is the sprayer without its Panhard rod: nothing stops its axle moving sideways.
func loose(t *testing.T) *study.Study {
	t.Helper()
	s := demo(t, "orchard-sprayer")
	j := s.Job.Clone()
	j.Links = j.Links[:len(j.Links)-1]
	for i := range j.Links { // parallel, so that no pair holds it
		j.Links[i].Axle[1] = j.Links[i].Frame[1]
	}
	return study.Compile(j)
}

// A free motion swings the axle and the links that follow it, and leaves the frame's ends where they are; the links keep their length nearly.
func TestSwingOfALooseAxle(t *testing.T) {
	s := loose(t)
	require.Nil(t, s.Mech)
	require.NotEmpty(t, s.Free)
	sc := New(Input{Plane: Plan, Now: s})
	tr := Fit(s, sizes).Transform(Plan, sizes[Plan])
	items := sc.Swing(tr, s.Free[0], 1)
	names := map[string]bool{}
	for _, it := range items {
		names[it.Name] = true
		assert.Equal(t, drawing.Line, it.Kind)
		assert.Equal(t, ink.Trouble, it.Stroke)
	}
	for _, want := range []string{job.AxleTubeName, "Lower left", "Lower right", "Centre upper", job.DriveshaftName} {
		assert.True(t, names[want], want)
	}
	for _, it := range sc.Swing(tr, s.Free[0], 0) { // through ride height
		if it.Name == "Lower left" {
			x, y := tr.Place(sc.knots(0)[0])
			assert.InDeltaSlice(t, []float64{x, y}, []float64{it.Points[0].X, it.Points[0].Y}, 1e-9)
		}
	}
	one, other := sc.swung(s.Free[0], 30), sc.swung(s.Free[0], -30)
	assert.InDelta(t, 60, r3.Norm(r3.Sub(one.pose.C, other.pose.C)), 1, "sideways, all of it")
	for i := range s.Parts.Job.Links {
		was, now := sc.knots(i), one.knots(i)
		assert.Equal(t, was[0], now[0])
		assert.InDelta(t, r3.Norm(r3.Sub(was[1], was[0])), r3.Norm(r3.Sub(now[1], now[0])), 2)
	}
	assert.Greater(t, SwingSeen(Plan, s.Free[0]), 0.5)
	assert.Less(t, SwingSeen(Side, s.Free[0]), 0.1)
}

// The same job as a pencil line of itself draws nothing; with one pivot of an arm or a rod elsewhere it draws that member and no other.
func TestPencilLineOfAnyMember(t *testing.T) {
	for name, s := range layouts(t) {
		pencil := func(o *study.Study) map[string]bool {
			sc := New(Input{Plane: Rear, Now: s, Pencils: []Pencil{{Study: o}}})
			seen := map[string]bool{}
			for _, it := range sc.Picture(FitAll(s, sizes).Transform(Rear, sizes[Rear]), paper.Measure, nil).Items {
				if it.Layer == drawing.Pencil {
					seen[it.Name] = true
				}
			}
			return seen
		}
		assert.Empty(t, pencil(study.Compile(s.Job)), name)
		if len(s.Job.Rockers) > 0 {
			j := s.Job.Clone()
			j.Rockers[0].Rods[0].Far[2] += 30
			assert.Equal(t, map[string]bool{j.Rockers[0].Rods[0].Name: true}, pencil(study.Compile(j)), name)
		}
	}
}

// The held pivot's bolt shows the room it needs to be drawn out, each way it may go, as long as the job says; another pivot's does not.
func TestWayOutOfTheHeldBolt(t *testing.T) {
	out := func(way string, held edit.Pivot) (ends [][2]float64) {
		s := demo(t, "orchard-sprayer")
		j := s.Job.Clone()
		j.Links[0].AxleEnd.BoltOut = &job.BoltOut{Length: 120, Across: 30, Grip: 80, Way: way}
		s = study.Compile(j)
		sc := New(Input{Plane: Rear, Now: s, At: at(t, s, 0, 0), Held: &held})
		tr := Fit(s, sizes).Transform(Rear, sizes[Rear])
		for _, it := range sc.Picture(tr, paper.Measure, nil).Items {
			if it.Kind != drawing.Dashed || it.Layer != drawing.Held {
				continue
			}
			least, most := math.Inf(1), math.Inf(-1)
			for _, p := range it.Points {
				least, most = math.Min(least, p.X), math.Max(most, p.X)
			}
			px, _ := tr.Place(j.Links[0].Axle.Vec())
			ends = append(ends, [2]float64{(least - px) / tr.Scale, (most - px) / tr.Scale})
		}
		return ends
	}
	left := edit.Pivot{List: edit.Links, End: edit.AxleEnd, Side: job.Left}
	both := out("", left)
	require.Len(t, both, 2)
	one := out("left", left) // seen from behind the left is on the left
	require.Len(t, one, 1)
	assert.InDelta(t, -175, one[0][0], 0.2, "40 of grip, 120 of bolt, the round end 15")
	assert.InDelta(t, -40, one[0][1], 0.2)
	assert.Empty(t, out("", edit.Pivot{List: edit.Links, End: edit.FrameEnd, Side: job.Left}))
}
