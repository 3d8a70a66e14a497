package start

import (
	"math"

	"axleloft/app/words"
)

// check refuses nonsense in a sentence that names the number.
func (s *Six) check() error {
	for _, n := range []struct {
		name   string
		v      float64
		lo, hi float64
		hint   string
	}{
		{words.T("wheelbase"), s.Wheelbase, 1800, 8000, words.T("It is measured from the front to the rear wheel's middle.")},
		{words.T("track"), s.Track, 1000, 2600, words.T("It is measured between the middles of the two rear wheels.")},
		{words.T("bump"), s.Bump, 20, 300, words.T("It is how far both wheels can go up from ride height.")},
		{words.T("droop"), s.Droop, 20, 300, words.T("It is how far both wheels can hang down from ride height; give it without a sign.")},
	} {
		if !(n.v >= n.lo && n.v <= n.hi) {
			return words.Errorf("The %s must be between %.0f and %.0f mm. You gave %.0f. %s", n.name, n.lo, n.hi, n.v, n.hint)
		}
	}
	if _, err := checkTyre(s.Tyre); err != nil {
		return err
	}
	if int(s.Layout) >= len(Layouts()) {
		return words.Errorf("Choose a layout first.")
	}
	if s.Bump > 0.6*s.Tyre.LoadedRadius {
		return words.Errorf("A bump of %.0f mm is more than this tyre's %.0f mm radius leaves room for. Give at most %.0f.", s.Bump, s.Tyre.LoadedRadius, math.Floor(0.6*s.Tyre.LoadedRadius))
	}
	if s.Track < 2.1*s.Tyre.LoadedRadius {
		return words.Errorf("Wheels of %.0f mm radius leave no room for links on a track of %.0f mm. Check both.", s.Tyre.LoadedRadius, s.Track)
	}
	return nil
}
