package study_test

import (
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"reflect"
	"slices"
	"testing"

	"axleloft/app/study"
	"axleloft/assets"
	"axleloft/geometry/alike"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// requireSame holds two studies against each other, to the last bit.
func requireSame(t *testing.T, want, have *study.Study, what string) {
	t.Helper()
	require.Equal(t, want.Refusal, have.Refusal, what)
	require.Equal(t, want.RangeNote, have.RangeNote, what)
	require.Equal(t, want.Range == nil, have.Range == nil, what)
	if want.Range != nil {
		require.True(t, alike.Same(want.Range.Edge, have.Range.Edge), what)
		require.True(t, alike.Same([]float64{want.Range.Bump, want.Range.Droop}, []float64{have.Range.Bump, have.Range.Droop}), what)
		require.True(t, alike.Same(want.Range.LeftUp, have.Range.LeftUp), what)
		require.True(t, alike.Same(want.Range.RightUp, have.Range.RightUp), what)
	}
	require.Len(t, have.Smallest, len(want.Smallest), what)
	for i := range want.Smallest {
		require.True(t, alike.Same(want.Smallest[i], have.Smallest[i]), "%s: pair %d: %v, taken over %v", what, i, want.Smallest[i], have.Smallest[i])
	}
	require.True(t, alike.Same(want.Both, have.Both), what)
	require.True(t, alike.Same(want.Crossed, have.Crossed), what)
	require.True(t, alike.Same(want.Extents, have.Extents), what)
	require.True(t, alike.Same(want.Ring, have.Ring), what)
	require.True(t, alike.Same(want.Findings, have.Findings), what)
}

// spots are all numbers, names and lists of a job, each with where it is.
type spots struct {
	numbers []*float64
	texts   []*string
	lists   []reflect.Value
	at      map[any]string
}

func (s *spots) walk(v reflect.Value, path string) {
	switch v.Kind() {
	case reflect.Float64:
		p := v.Addr().Interface().(*float64)
		s.numbers, s.at[p] = append(s.numbers, p), path
	case reflect.String:
		if p, ok := v.Addr().Interface().(*string); ok {
			s.texts, s.at[p] = append(s.texts, p), path
		}
	case reflect.Pointer:
		if !v.IsNil() {
			s.walk(v.Elem(), path)
		}
	case reflect.Slice:
		if v.Len() > 0 && v.Index(0).Kind() == reflect.Struct {
			s.lists = append(s.lists, v)
		}
		fallthrough
	case reflect.Array:
		for i := range v.Len() {
			s.walk(v.Index(i), fmt.Sprintf("%s[%d]", path, i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				s.walk(v.Field(i), path+"."+f.Name)
			}
		}
	}
}

// edited changes one thing of a job, whatever it is, that leaves a job nothing is complained of.
func edited(rng *rand.Rand, j *job.Job) (*job.Job, string) {
	for {
		k := j.Clone()
		s := spots{at: map[any]string{}}
		s.walk(reflect.ValueOf(k).Elem(), "")
		what := ""
		switch n := rng.IntN(12); {
		case n == 0:
			p := s.texts[rng.IntN(len(s.texts))]
			what = s.at[p] + " called otherwise"
			*p += " x"
		case n == 1: // one entry of a list less, or twice
			v := s.lists[rng.IntN(len(s.lists))]
			i := rng.IntN(v.Len())
			if name := v.Index(i).FieldByName("Name"); rng.IntN(2) == 0 && name.IsValid() && name.Kind() == reflect.String {
				what = "twice " + v.Type().String()
				v.Set(reflect.Append(v, v.Index(i)))
				v.Index(v.Len() - 1).FieldByName("Name").SetString(name.String() + " again")
			} else {
				what = "one less of " + v.Type().String()
				v.Set(reflect.AppendSlice(v.Slice(0, i), v.Slice(i+1, v.Len())))
			}
		case n < 5 && len(k.Envelopes) > 0: // one in the way moved
			e := &k.Envelopes[rng.IntN(len(k.Envelopes))]
			if e.Min == nil || e.Max == nil {
				continue
			}
			what = e.Name + " moved"
			axis, by := rng.IntN(3), 40*rng.Float64()-20
			e.Min[axis] += by
			e.Max[axis] += by
		default:
			p := s.numbers[rng.IntN(len(s.numbers))]
			what = fmt.Sprintf("%s, %v", s.at[p], *p)
			*p += []float64{1e-9, 3, -12, 0.02 * *p}[rng.IntN(4)]
		}
		if len(job.Check(k)) == 0 {
			return k, what
		}
	}
}

// often is a number of tries: the larger one where AXLELOFT_LONG is set.
func often(usual, all int) int {
	if os.Getenv("AXLELOFT_LONG") != "" {
		return all
	}
	return usual
}

// Whatever is changed, and gone back to, a study that takes over from earlier ones is to the last bit what it is by itself, at either depth.
func TestFromEarlierStudies(t *testing.T) {
	rounds := often(10, 24)
	if testing.Short() {
		rounds = 8
	}
	jobs := map[string]*job.Job{}
	for _, name := range assets.Demos() {
		jobs[name] = demo(t, name, "")
	}
	list := layouts(t)
	for _, name := range []string{"watts-on-axle", "a-arm-lowers", "bent-lowers", "four-link-struts-on-lowers", "two-piece-shaft", "radius-arms-panhard"} {
		require.NotNil(t, list[name], name)
		jobs[name] = list[name]
	}
	ctx := context.Background()
	worked, had := 0, 0
	for _, name := range slices.Sorted(maps.Keys(jobs)) {
		j := jobs[name]
		t.Run(name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(1, 1))
			past := []*job.Job{j}
			var before []*study.Study
			all, fresh := 0, 0
			n := rounds
			if len(j.Arms) > 0 { // their proofs take long
				n = max(4, rounds/8)
			}
			for round := range n {
				what := "gone back"
				if round%5 == 4 {
					j = past[rng.IntN(len(past))]
				} else {
					j, what = edited(rng, past[len(past)-1-rng.IntN(min(2, len(past)))])
				}
				past = append(past, j)
				depth := study.Live
				if rng.IntN(4) == 0 {
					depth = study.Full
				}
				want := study.NewWith(ctx, j, depth, 2)
				have := study.NewFrom(ctx, j, depth, study.From{Workers: 2, Before: before})
				requireSame(t, want, have, what)
				all, fresh = all+len(have.Smallest), fresh+have.Fresh()
				before = append([]*study.Study{have}, before...)
				before = before[:min(4, len(before))]
			}
			t.Logf("%d of %d pairs worked out anew", fresh, all)
			assert.Positive(t, fresh)
			worked, had = worked+fresh, had+all
		})
	}
	assert.Less(t, worked, had*3/4)
}

// How much is done is told from nothing to nearly all; a study given up on the way, wherever, does next to nothing more and is none.
func TestGivenUp(t *testing.T) {
	j := demo(t, "survey-wagon", "")
	least, most, told := 1.0, 0.0, 0
	require.NotNil(t, study.NewFrom(context.Background(), j, study.Full, study.From{Workers: 1, Tell: func(done float64) {
		least, most, told = min(least, done), max(most, done), told+1
	}}))
	assert.Less(t, least, 0.25)
	assert.Greater(t, most, 0.9)
	assert.LessOrEqual(t, most, 1.0)
	require.Greater(t, told, 100)
	for _, at := range []float64{0.01, 0.3, 0.6, 0.8, 0.94} {
		ctx, cancel := context.WithCancel(context.Background())
		more := 0
		s := study.NewFrom(ctx, j, study.Full, study.From{Workers: 1, Tell: func(done float64) {
			if ctx.Err() != nil {
				more++
			}
			if done >= at {
				cancel()
			}
		}})
		cancel()
		assert.Nil(t, s, at)
		assert.Less(t, more, 5, "worked on after %v", at)
	}
}
