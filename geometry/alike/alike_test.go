package alike_test

import (
	"math"
	"reflect"
	"testing"

	"axleloft/geometry/alike"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

type leaf struct {
	Name string
	V    float64
	on   bool
}

type tree struct {
	N     int
	U     uint8
	F     float32
	A     [2]float64
	List  []leaf
	One   *leaf
	By    map[string]leaf
	Any   any
	call  func()
	inner leaf
}

func full() *tree {
	return &tree{
		N: 1, U: 2, F: 3, A: [2]float64{4, math.NaN()}, List: []leaf{{"a", 5, true}, {"b", math.Inf(1), false}}, One: &leaf{"c", 6, false},
		By: map[string]leaf{"k": {V: 7}}, Any: leaf{V: 8}, inner: leaf{V: 9},
	}
}

// Every single change tells, whichever way round, and a change of a name only where names count.
func TestSame(t *testing.T) {
	assert.True(t, alike.Same(full(), full()))
	assert.True(t, alike.Same(*full(), *full()))
	for i, change := range []func(*tree){
		func(x *tree) { x.N++ }, func(x *tree) { x.U++ }, func(x *tree) { x.F++ }, func(x *tree) { x.A[0] = math.Nextafter(4, 5) }, func(x *tree) { x.A[1] = 0 },
		func(x *tree) { x.List[1].V = 0 }, func(x *tree) { x.List[0].on = false }, func(x *tree) { x.List = x.List[:1] }, func(x *tree) { x.List = nil },
		func(x *tree) { x.One.V = math.Copysign(0, -1) }, func(x *tree) { x.One = nil }, func(x *tree) { x.By["k"] = leaf{} }, func(x *tree) { x.By["l"] = leaf{} },
		func(x *tree) { x.By = map[string]leaf{"l": {V: 7}} }, func(x *tree) { x.By = nil }, func(x *tree) { x.Any = 8.0 }, func(x *tree) { x.Any = nil }, func(x *tree) { x.inner.on = true },
		func(x *tree) { x.call = func() {} },
	} {
		x := full()
		change(x)
		assert.False(t, alike.Same(x, full()), i)
		assert.False(t, alike.Same(full(), x), i)
		assert.False(t, alike.Same(full(), x, "Name"), i)
	}
	x := full()
	x.List[1].Name, x.One.Name, x.inner.Name = "x", "y", "z"
	assert.False(t, alike.Same(x, full()))
	assert.True(t, alike.Same(x, full(), "Name"))
	assert.False(t, alike.Same(math.Copysign(0, -1), 0.0))
	assert.False(t, alike.Same(1, 1.0))
	assert.False(t, alike.Same(nil, 1))
	assert.True(t, alike.Same(nil, nil))
}

// Numbers compare as their bits do, and on anything without NaN or a signed zero as the standard library says.
func TestLikeDeepEqual(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := rapid.Custom(func(t *rapid.T) []leaf {
			return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) leaf {
				return leaf{rapid.SampledFrom([]string{"a", "b"}).Draw(t, "name"), float64(rapid.IntRange(1, 2).Draw(t, "v")), rapid.Bool().Draw(t, "on")}
			}), 0, 2).Draw(t, "list")
		})
		a, b := draw.Draw(t, "a"), draw.Draw(t, "b")
		assert.Equal(t, reflect.DeepEqual(a, b), alike.Same(a, b))
	})
}
