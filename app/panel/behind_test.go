package panel

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// posted is a window's goroutine for tests: what is posted runs when the test says so.
type posted chan func()

func (p posted) post(f func()) { p <- f }
func (p posted) run()          { (<-p)() }

func newBehind(t *testing.T) (*behind[int], posted, *int) {
	t.Helper()
	p := make(posted, 100)
	seen := 0
	return &behind[int]{post: p.post, changed: func() { seen++ }}, p, &seen
}

func answer(n int) func(context.Context, *atomic.Int64) (int, error) {
	return func(context.Context, *atomic.Int64) (int, error) { return n, nil }
}

// What is asked last wins, and the older one is told to stop.
func TestBehindTheNewestWins(t *testing.T) {
	b, p, seen := newBehind(t)
	gaveUp := make(chan bool)
	b.ask("a", func(ctx context.Context, looked *atomic.Int64) (int, error) {
		<-ctx.Done()
		close(gaveUp)
		return 1, nil
	})
	assert.Equal(t, "working out", b.words("places"))
	b.ask("b", answer(2))
	<-gaveUp
	p.run()
	assert.True(t, b.fresh("b"))
	assert.False(t, b.fresh("a"))
	assert.Equal(t, 2, b.got)
	assert.Equal(t, 1, *seen)
	assert.Empty(t, b.words("places"))
	b.ask("b", func(context.Context, *atomic.Int64) (int, error) { panic("it is known already") })
	assert.True(t, b.fresh("b"))
}

// What was given up stays so till it is asked for anew; the old result stays.
func TestBehindGivenUp(t *testing.T) {
	b, p, _ := newBehind(t)
	b.ask("a", answer(1))
	p.run()
	b.ask("b", func(ctx context.Context, _ *atomic.Int64) (int, error) { <-ctx.Done(); return 0, ctx.Err() })
	b.giveUp()
	assert.Equal(t, "given up", b.words(""))
	b.ask("b", answer(2))
	assert.Equal(t, "given up", b.words(""), "not begun again by itself")
	assert.True(t, b.fresh("a"))
	b.again()
	b.ask("b", answer(2))
	p.run()
	assert.True(t, b.fresh("b"))
}

func TestBehindSaysWhyThereIsNothing(t *testing.T) {
	b, p, _ := newBehind(t)
	b.ask("a", func(context.Context, *atomic.Int64) (int, error) { return 0, errors.New("The tyre has no width.") })
	p.run()
	require.False(t, b.has)
	assert.Equal(t, "The tyre has no width.", b.words(""))
	b.drop()
	assert.Equal(t, "The tyre has no width.", b.words(""), "nothing was going on")
}
