package edit

import (
	"math"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// everyEnd is a job that has an end of every kind of member.
func everyEnd(t testing.TB) (*job.Job, []Pivot) {
	t.Helper()
	j := sprayer(t)
	for _, l := range []List{Links, Arms, Rockers} {
		for _, k := range Kinds(l) {
			_, err := Add(j, l, k)
			require.NoError(t, err)
		}
	}
	require.Empty(t, job.Check(j))
	var out []Pivot
	for _, p := range Pivots(j) {
		if EndKey(j, p) != "" {
			out = append(out, p)
		}
	}
	return j, out
}

func TestBoltInWords(t *testing.T) {
	j, ends := everyEnd(t)
	for _, p := range ends {
		h := endOf(j, p)
		assert.Equal(t, lie{word: h.square}, h.direction(nil))
		for _, w := range h.words() {
			for _, deg := range []float64{-40, -5, 0, 12.5, 40} {
				for _, up := range []float64{0, -7, 20} {
					l := lie{w, deg, up}
					if w == h.square && w != BoltAcross {
						l.raised = 0
					}
					b, err := h.bolt(l)
					require.NoError(t, err)
					got := h.direction(b)
					if b != nil && got.word != w { // the same direction by another of its names
						again, err := h.bolt(got)
						require.NoError(t, err)
						assert.InDelta(t, 1, math.Abs(r3.Dot(unit(again.Vec()), unit(b.Vec()))), 2e-4, "%s: %v reads %v", Name(j, p), l, got)
						continue
					}
					assert.InDelta(t, l.turned, got.turned, 1e-3, "%s: %v", Name(j, p), l)
					assert.InDelta(t, l.raised, got.raised, 1e-3, "%s: %v", Name(j, p), l)
				}
			}
		}
		_, err := h.bolt(lie{BoltAcross, 91, 0})
		assert.Error(t, err)
		_, err = h.bolt(lie{BoltAcross, 0, math.NaN()})
		assert.Error(t, err)
	}
	lower := endOf(j, Pivot{List: Links, Index: linkAt(t, j, "Lower")})
	square, err := lower.bolt(lie{BoltSquare, 25, 0})
	require.NoError(t, err)
	assert.InDelta(t, 0, r3.Dot(square.Vec(), lower.along), 1e-8)
	for want, l := range map[string]lie{
		"across, turned 12 deg, left end up 3 deg":      {BoltAcross, 12, 3},
		"across, left end down 2.5 deg":                 {BoltAcross, 0.04, -2.5},
		"fore-and-aft, front end up 1 deg":              {BoltAft, 0, 1},
		"upright, turned −4 deg, leaning forward 6 deg": {BoltUpright, -4, 6},
		"upright, leaning back 6 deg":                   {BoltUpright, 0, -6},
		"square to its link, turned 30 deg":             {BoltSquare, 30, 0},
	} {
		assert.Equal(t, want, l.String())
	}
}

// Any direction reads as words that lead back to it.
func TestAnyBoltReadsBack(t *testing.T) {
	j, ends := everyEnd(t)
	rapid.Check(t, func(rt *rapid.T) {
		h := endOf(j, rapid.SampledFrom(ends).Draw(rt, "end"))
		g := rapid.Float64Range(-1, 1)
		d := job.Point{g.Draw(rt, "x"), g.Draw(rt, "y"), g.Draw(rt, "z")}
		if r3.Norm(d.Vec()) < 0.01 {
			return
		}
		l := h.direction(&d)
		b, err := h.bolt(l)
		require.NoError(rt, err)
		if b == nil {
			p := job.Point{h.free.X, h.free.Y, h.free.Z}
			b = &p
		}
		tol := 1e-3
		if l.word == h.square && l.word != BoltAcross { // within a degree of square counts as square
			tol = boltTol
		}
		require.LessOrEqual(rt, math.Acos(math.Min(1, math.Abs(r3.Dot(unit(b.Vec()), unit(d.Vec())))))*180/math.Pi, tol+1e-4)
	})
}

// Where nobody gave a bolt: a link's and a rod's lie level and square to it, an A-arm's on the line of its frame pivots, a radius arm's across.
func TestBoltsNobodyGave(t *testing.T) {
	j, ends := everyEnd(t)
	for _, p := range ends {
		h := endOf(j, p)
		e := h.end()
		e.Bolt = nil
		h.set(e)
		dir, ok := Bolt(j, p)
		require.True(t, ok)
		assert.InDelta(t, 1, r3.Norm(dir), 1e-12)
		switch {
		case p.List == Arms && j.Arms[p.Index].IsRadius():
			assert.Equal(t, r3.Vec{Y: 1}, dir)
		case p.List == Arms && p.End == FrameEnd:
			a := &j.Arms[p.Index]
			line := r3.Sub(a.Frame[0].Vec(), a.Frame[1].Vec())
			assert.InDelta(t, 0, r3.Norm(r3.Cross(line, dir)), 1e-9)
		default:
			assert.InDelta(t, 0, r3.Dot(h.along, dir), 1e-12)
			assert.InDelta(t, 0, dir.Z, 1e-12)
		}
		assert.Equal(t, h.square, BoltWords(j, p))
	}
}

// However a bolt is turned by hand it lies as asked, on the twin mirrored; the job's own checks agree about what lies too near its link.
func TestTurnBolt(t *testing.T) {
	whole, ends := everyEnd(t)
	rapid.Check(t, func(rt *rapid.T) {
		j := whole.Clone()
		p := rapid.SampledFrom(ends).Draw(rt, "end")
		if find(j, p).pair && rapid.Bool().Draw(rt, "right") {
			p.Side = job.Right
		}
		g := rapid.Float64Range(-1, 1)
		dir := r3.Vec{X: g.Draw(rt, "x"), Y: g.Draw(rt, "y"), Z: g.Draw(rt, "z")}
		if r3.Norm(dir) < 0.1 {
			dir.X = 1
		}
		err := TurnBolt(j, p, dir)
		along := endOf(j, p).along
		if find(j, p).mirrored(p) {
			along.Y = -along.Y
		}
		near := math.Acos(math.Min(1, math.Abs(r3.Dot(unit(dir), along)))) * 180 / math.Pi
		if err != nil {
			require.Less(rt, near, nearLink+1e-6)
			require.Contains(rt, err.Error(), "within 10 deg")
			return
		}
		require.Empty(rt, job.Check(j))
		got, ok := Bolt(j, p)
		require.True(rt, ok)
		require.InDelta(rt, 0, r3.Norm(r3.Sub(got, unit(dir))), 1e-8)
		other := p
		if p.Side == job.Right {
			other.Side = job.Left
			twin, _ := Bolt(j, other)
			require.InDelta(rt, 0, r3.Norm(r3.Sub(twin, r3.Vec{X: got.X, Y: -got.Y, Z: got.Z})), 1e-12)
		}
		require.NotEmpty(rt, BoltWords(j, p))
	})
}

func TestBoltWordsOfATwinReadAsItLies(t *testing.T) {
	j := sprayer(t)
	p := Pivot{List: Links, Index: linkAt(t, j, "Lower"), Side: job.Left}
	s, c := math.Sincos(12 * math.Pi / 180)
	require.NoError(t, TurnBolt(j, p, r3.Vec{X: -s, Y: c}))
	assert.Equal(t, "across, turned 12 deg", BoltWords(j, p))
	p.Side = job.Right
	assert.Equal(t, "across, turned −12 deg", BoltWords(j, p))
	require.NoError(t, TurnBolt(j, p, r3.Vec{Y: 1}))
	assert.Equal(t, "across", BoltWords(j, p))
	assert.Empty(t, BoltWords(j, Pivot{List: Struts}))
}

// A rod end between cheeks begins from any one of its sizes and ends with any of them taken out.
func TestClevisFromAnyOfItsSizes(t *testing.T) {
	for _, first := range []string{"head", "headWidth", "ballWidth"} {
		j := sprayer(t)
		part := Part{Links, linkAt(t, j, "Centre upper")}
		require.NoError(t, Set(j, part, "axleEnd.kind", "ball"))
		require.NoError(t, Set(j, part, "axleEnd.clevis."+first, "30"))
		require.Empty(t, job.Check(j), first)
		c := j.Links[part.Index].AxleEnd.Clevis
		assert.Equal(t, 30.0, map[string]float64{"head": c.Head, "headWidth": c.HeadWidth, "ballWidth": c.BallWidth}[first])
		require.NoError(t, Set(j, part, "axleEnd.clevis.gap", "41"))
		require.NoError(t, Set(j, part, "axleEnd.clevis.edgeRadius", "1"))
		assert.Equal(t, 41.0, *j.Links[part.Index].AxleEnd.Clevis.Gap)
		require.NoError(t, Set(j, part, "axleEnd.clevis."+first, ""))
		assert.Nil(t, j.Links[part.Index].AxleEnd.Clevis)
	}
}

// The room of a bolt drawn out begins from any one of its sizes, and goes with any of them; the right twin's way is the mirrored one.
func TestBoltOutFromAnyOfItsSizes(t *testing.T) {
	for first, want := range map[string]job.BoltOut{"length": {Length: 120, Across: 30, Grip: 84}, "across": {Length: 480, Across: 120, Grip: 336}, "grip": {Length: 171.428571, Across: 42.857143, Grip: 120}} {
		j := sprayer(t)
		part := Part{Links, linkAt(t, j, "Lower")}
		require.NoError(t, Set(j, part, "axleEnd.boltOut."+first, "120"))
		require.Empty(t, job.Check(j), first)
		o := j.Links[part.Index].AxleEnd.BoltOut
		assert.InDeltaSlice(t, []float64{want.Length, want.Across, want.Grip}, []float64{o.Length, o.Across, o.Grip}, 1e-3, first)
		require.NoError(t, Set(j, part, "axleEnd.boltOut.grip", "70"))
		require.NoError(t, Set(j, part, "axleEnd.boltOut.way", "left"))
		assert.Equal(t, 70.0, j.Links[part.Index].AxleEnd.BoltOut.Grip)
		both := job.Expand(j).Job.Links
		assert.Equal(t, []string{"left", "right"}, []string{both[part.Index].AxleEnd.BoltOut.Way, both[part.Index+1].AxleEnd.BoltOut.Way})
		require.Error(t, Set(j, part, "axleEnd.boltOut.across", "0"))
		require.NoError(t, Set(j, part, "axleEnd.boltOut."+first, ""))
		assert.Nil(t, j.Links[part.Index].AxleEnd.BoltOut)
	}
}
