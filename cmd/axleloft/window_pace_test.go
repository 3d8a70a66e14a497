package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"
	"time"

	"axleloft/assets"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// paceAsked is the variable that makes the pace of a drag measured: how many seconds each takes.
const paceAsked = "AXLELOFT_PACE"

// paced is what the program tells of its window's goroutine.
type paced struct {
	Seconds, Worst float64
	Turns, Frames  int
	Work           map[string]struct {
		Count                int
		Total, Longest, Wall float64
		Slow                 []float64
	}
}

// The pace of the window while a pivot is dragged, printed; nothing is asserted of it, since it is the machine's too. What a frame takes of a
// processor hangs less on what else the machine does than how many there are in a second.
func TestWindowPaceWhileAPivotIsDragged(t *testing.T) {
	seconds, err := strconv.ParseFloat(os.Getenv(paceAsked), 64)
	if err != nil || seconds <= 0 {
		t.Skipf("the pace of a drag is measured only with %s=SECONDS", paceAsked)
	}
	for _, x := range []struct {
		demo, scale string
		w, h        int
	}{
		{"orchard-sprayer", "1", wide, tall},
		{"rescue-tender", "1", wide, tall},
		{"survey-wagon", "1", wide, tall},
		{"orchard-sprayer", "1", 1920, 1080},
		{"survey-wagon", "1", 1920, 1080},
		{"orchard-sprayer", "2", 2 * wide, 2 * tall},
	} {
		t.Run(fmt.Sprintf("%s %dx%d scale %s", x.demo, x.w, x.h, x.scale), func(t *testing.T) {
			d := newDesk(t, x.w+20, x.h+60, x.scale, "light")
			d.quick = true
			file := filepath.Join(d.home, x.demo+".axleloft")
			require.NoError(t, os.WriteFile(file, assets.Demo(x.demo), 0o600))
			program(t)
			began := time.Now()
			w := d.open(x.w, x.h, file)
			opened := time.Since(began)
			w.caution()
			w.settled()
			name := "rear pivot Panhard rod, frame end"
			if _, _, ok := w.where(name); !ok {
				name = "side pivot Upper left, frame end"
			}
			before := w.state()
			p, cpu := w.dragFor(name, seconds)
			after := w.shows("the pivot was moved", func(s state) bool { return s.Undo != before.Undo })
			assert.True(t, after.Dirty)
			t.Logf("opened in %.1f s; %.0f frames a second, at most %.0f ms from one to the next", opened.Seconds(), float64(p.Frames)/p.Seconds, p.Worst)
			t.Logf("a frame takes of a processor, ms: %s", perFrame(cpu, p.Frames))
			for _, what := range []string{"before a frame", "refresh", "posted"} {
				s := p.Work[what]
				t.Logf("%-15s %4d times, %.2f ms a frame, longest %.1f; over 8 ms: %v", what, s.Count, s.Total/float64(max(p.Frames, 1)), s.Longest, s.Slow)
			}
			w.quiet(t)
		})
	}
}

// dragFor takes a pivot and leads it about for some seconds, ninety moves in each; it returns what the window's goroutine did meanwhile, and what
// each kind of thread had of a processor, ms.
func (w *window) dragFor(name string, seconds float64) (p paced, cpu map[string]float64) {
	w.t.Helper()
	const moves = 90 // a second
	x, y := w.place(name)
	w.move(x, y)
	time.Sleep(2 * moment)
	w.do("mousedown", "1")
	for i := range 4 {
		w.move(x, y-i)
		time.Sleep(moment / 2)
	}
	far := 15 * w.factor()
	var path []string
	for i := range int(seconds * moves) {
		at := 2 * math.Pi * float64(i) / moves
		path = append(path, "mousemove", "--window", w.id, strconv.Itoa(x+int(math.Round(far/2*math.Sin(0.7*at)))), strconv.Itoa(y-int(math.Round(far*math.Sin(at)))),
			"sleep", fmt.Sprintf("%.4f", 1.0/moves))
	}
	ask := func() (p paced) {
		data, err := w.question("pace")
		require.NoError(w.t, err)
		require.NoError(w.t, json.Unmarshal(data, &p))
		return p
	}
	ask()
	from := threads(w.cmd.Process.Pid)
	w.do(path...)
	cpu = threads(w.cmd.Process.Pid)
	p = ask()
	for k := range cpu {
		cpu[k] -= from[k]
	}
	w.do("mouseup", "1")
	return p, cpu
}

// threads is what each kind of a process's threads has had of a processor so far, ms: the window's own, the software painter's, all others.
func threads(pid int) map[string]float64 {
	out := map[string]float64{}
	tasks, _ := filepath.Glob(fmt.Sprintf("/proc/%d/task/*", pid))
	for _, dir := range tasks {
		name, _ := os.ReadFile(filepath.Join(dir, "comm"))
		spent, _ := os.ReadFile(filepath.Join(dir, "schedstat")) // ns on a processor first
		f := strings.Fields(string(spent))
		if len(f) == 0 {
			continue
		}
		ns, _ := strconv.ParseFloat(f[0], 64)
		kind := "figures and the rest"
		switch {
		case filepath.Base(dir) == strconv.Itoa(pid):
			kind = "window"
		case strings.HasPrefix(string(name), "llvmpipe"):
			kind = "painter"
		}
		out[kind] += ns / 1e6
	}
	return out
}

func perFrame(cpu map[string]float64, frames int) string {
	var out []string
	for k, ms := range cpu {
		out = append(out, fmt.Sprintf("%s %.1f", k, ms/float64(max(frames, 1))))
	}
	sort.Strings(out)
	return strings.Join(out, ", ")
}
