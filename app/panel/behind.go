package panel

import (
	"context"
	"errors"
	"fmt"
	"sync/atomic"
	"time"
)

// behind works something out off the window's goroutine. What was asked last wins: an older one is given up. All methods are called on the window's goroutine.
type behind[T any] struct {
	post    func(func())
	changed func() // a result came, or words of progress

	key      string // of what is asked for; "" nothing yet
	stop     context.CancelFunc
	busy     bool
	left     bool // the person gave it up
	began    time.Time
	progress *atomic.Int64 // what it has looked at so far

	got    T
	has    bool
	gotKey string
	err    error
}

// slow is from when on progress is shown.
const slow = time.Second

// ask has f worked out for a key, unless that has been done, is being done or was given up. f is handed a count it may raise as it goes on.
func (b *behind[T]) ask(key string, f func(ctx context.Context, looked *atomic.Int64) (T, error)) {
	if key == b.key {
		return
	}
	b.begin(key, f)
}

func (b *behind[T]) begin(key string, f func(ctx context.Context, looked *atomic.Int64) (T, error)) {
	if b.stop != nil {
		b.stop()
	}
	ctx, stop := context.WithCancel(context.Background())
	b.key, b.stop, b.busy, b.left, b.began, b.progress = key, stop, true, false, time.Now(), &atomic.Int64{}
	count, began := b.progress, b.began
	go func() {
		got, err := f(ctx, count)
		given := ctx.Err() != nil
		stop()
		if given {
			return
		}
		b.post(func() {
			if b.key != key || !b.busy {
				return
			}
			b.busy, b.err = false, err
			if err == nil {
				b.got, b.has, b.gotKey = got, true, key
			}
			b.changed()
		})
	}()
	go func() {
		t := time.NewTicker(slow / 4)
		defer t.Stop()
		for {
			select {
			case <-ctx.Done():
				return
			case <-t.C:
				if time.Since(began) >= slow {
					b.post(func() {
						if b.key == key && b.busy {
							b.changed()
						}
					})
				}
			}
		}
	}()
}

// giveUp ends what is being worked out; it is not begun again till something else is asked for, or again.
func (b *behind[T]) giveUp() {
	if b.busy {
		b.stop()
		b.busy, b.left = false, true
	}
}

// again forgets that something was given up or refused.
func (b *behind[T]) again() { b.key, b.left, b.err = "", false, nil }

// drop gives up what is being worked out, to be begun again when it is asked for.
func (b *behind[T]) drop() {
	if b.busy {
		b.stop()
		b.busy, b.key = false, ""
	}
}

// fresh reports whether what is there is of a key.
func (b *behind[T]) fresh(key string) bool { return b.has && b.gotKey == key }

// words say how it stands: "", what goes on, that it was given up, or why there is nothing.
func (b *behind[T]) words(counted string) string {
	switch {
	case b.busy && time.Since(b.began) >= slow:
		text := "working out"
		if n := b.progress.Load(); n > 0 && counted != "" {
			text += fmt.Sprintf(": %d %s", n, counted)
		}
		return text
	case b.busy:
		return "working out"
	case b.left:
		return "given up"
	case b.err != nil && !errors.Is(b.err, context.Canceled):
		return b.err.Error()
	}
	return ""
}
