package panel

import (
	"context"
	"errors"
	"fmt"
	"sync/atomic"
	"time"

	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
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
		text := words.T("working out")
		if n := b.progress.Load(); n > 0 && counted != "" {
			text += fmt.Sprintf(": %d %s", n, counted)
		}
		return text
	case b.busy:
		return words.T("working out")
	case b.left:
		return words.T("given up")
	case b.err != nil && !errors.Is(b.err, context.Canceled):
		return b.err.Error()
	}
	return ""
}

// numbered gives studies numbers as they come, for the keys of what is worked out of them.
type numbered struct {
	last *study.Study
	n    int
}

func (k *numbered) of(s *study.Study) int {
	if s != k.last {
		k.last, k.n = s, k.n+1
	}
	return k.n
}

// underWay is the line that says how far something is that is worked out behind the window, with a button that gives it up or begins it again.
type underWay[T any] struct {
	found *behind[T]
	note  *look.Label
	stop  *look.Button
	line  *fyne.Container
}

func newUnderWay[T any](found *behind[T]) *underWay[T] {
	u := &underWay[T]{found: found, note: look.NewLabel("", look.Small, ink.Second, false).Shrinks(40)}
	u.stop = look.NewButton("", look.Outline, func() {
		if found.busy {
			found.giveUp()
		} else {
			found.again()
		}
		found.changed()
	}).Tall(30, look.Row)
	u.line = container.New(&stopLine{u.note, u.stop}, u.note, u.stop)
	return u
}

// say says how it stands: fresh where what is there is of what is asked for; counted is what is counted meanwhile, older what the figures are of that
// still stand there.
func (u *underWay[T]) say(fresh bool, counted, older string) {
	note := u.found.words(counted)
	switch {
	case u.found.err != nil && !u.found.busy: // said where the figures would stand
		note = ""
	case !fresh && u.found.has && !u.found.left:
		note = older
	case !fresh && note == "":
		note = words.T("working out")
	}
	u.note.SetText(note)
	u.stop.SetText(words.T("Give up"))
	if u.found.left {
		u.stop.SetText(words.T("Work out"))
	}
	look.Show(u.stop, u.found.left || u.found.busy)
	u.line.Refresh()
}
