package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// asked is the variable that makes the tests of the real window run.
const asked = "AXLELOFT_WINDOW_TESTS"

// patience is how long anything awaited may take: far more than it does, so that only what never comes fails.
const patience = 2 * time.Minute

var tools = []string{"Xvfb", "openbox", "xdotool", "import"}

// need skips a test of the real window where nobody asked for it, and fails it where its tools are missing.
func need(t *testing.T) {
	t.Helper()
	if os.Getenv(asked) == "" {
		t.Skipf("the real window is driven only with %s=1 (it needs %s)", asked, strings.Join(tools, ", "))
	}
	for _, name := range tools {
		_, err := exec.LookPath(name)
		require.NoError(t, err, "%s=1 needs %s", asked, name)
	}
}

// binary is the built program, made once.
var binary string

func TestMain(m *testing.M) {
	code := m.Run()
	if binary != "" {
		_ = os.RemoveAll(filepath.Dir(binary))
	}
	os.Exit(code)
}

func program(t *testing.T) string {
	t.Helper()
	if binary == "" {
		dir, err := os.MkdirTemp("", "axleloft-window-")
		require.NoError(t, err)
		name := filepath.Join(dir, "axleloft")
		out, err := exec.Command("go", "build", "-o", name, ".").CombinedOutput()
		require.NoError(t, err, "%s", out)
		binary = name
	}
	return binary
}

// desk is a display of its own with a window manager, and a home that is thrown away.
type desk struct {
	t       *testing.T
	display string
	home    string
	scale   string
	theme   string
	quick   bool // as users have it: nothing is checked on the way
	env     []string
}

// newDesk starts a display of w by h pixels.
func newDesk(t *testing.T, w, h int, scale, theme string) *desk {
	t.Helper()
	need(t)
	d := &desk{t: t, home: t.TempDir(), scale: scale, theme: theme}
	r, wr, err := os.Pipe()
	require.NoError(t, err)
	x := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", fmt.Sprintf("%dx%dx24", w, h), "-nolisten", "tcp", "-noreset")
	x.ExtraFiles = []*os.File{wr}
	d.start(x)
	require.NoError(t, wr.Close())
	got := make(chan string, 1)
	go func() {
		line, _ := bufio.NewReader(r).ReadString('\n')
		got <- strings.TrimSpace(line)
	}()
	select {
	case n := <-got:
		require.NotEmpty(t, n, "Xvfb named no display")
		d.display = ":" + n
	case <-time.After(patience):
		t.Fatal("Xvfb did not start")
	}
	_ = r.Close()
	for _, e := range os.Environ() {
		name, _, _ := strings.Cut(e, "=")
		switch {
		case name == "DISPLAY", name == "HOME", name == "LANG", name == "WAYLAND_DISPLAY", strings.HasPrefix(name, "LC_"), strings.HasPrefix(name, "XDG_"), strings.HasPrefix(name, "FYNE_"), strings.HasPrefix(name, "AXLELOFT_"):
		default:
			d.env = append(d.env, e)
		}
	}
	d.env = append(d.env, "DISPLAY="+d.display, "HOME="+d.home, "LANG=en_US.UTF-8", "FYNE_SCALE="+scale, "FYNE_THEME="+theme)
	ob := exec.Command("openbox")
	ob.Env = d.env
	d.start(ob)
	return d
}

// start runs a command till the test ends.
func (d *desk) start(c *exec.Cmd) {
	d.t.Helper()
	require.NoError(d.t, c.Start())
	d.t.Cleanup(func() { end(c, syscall.SIGKILL) })
}

// end ends a command that was started here and waits for it.
func end(c *exec.Cmd, s syscall.Signal) {
	if c.ProcessState == nil {
		_ = c.Process.Signal(s)
		_ = c.Wait()
	}
}

// window is the program running on a desk, and hands on its mouse and keys.
type window struct {
	*desk
	cmd   *exec.Cmd
	probe string
	id    string
	said  bytes.Buffer
}

// open starts the program and waits till its window is there and has the focus; size in pixels.
func (d *desk) open(w, h int, args ...string) *window {
	d.t.Helper()
	x := &window{desk: d, probe: filepath.Join(d.home, "probe")}
	_ = os.Remove(x.probe)
	x.cmd = exec.Command(program(d.t), args...)
	x.cmd.Env = append(append([]string{}, d.env...), "AXLELOFT_PROBE="+x.probe)
	if !d.quick {
		x.cmd.Env = append(x.cmd.Env, "AXLELOFT_CHECK_THREADS=1")
	}
	x.cmd.Stdout, x.cmd.Stderr = &x.said, &x.said
	d.start(x.cmd)
	x.until("the program answers", func() bool { _, err := x.question("state"); return err == nil })
	x.until("a window is visible", func() bool {
		out, err := d.run("xdotool", "search", "--onlyvisible", "--name", "Axleloft")
		if ids := strings.Fields(out); err == nil && len(ids) > 0 {
			x.id = ids[len(ids)-1]
		}
		return x.id != ""
	})
	k := x.factor()
	x.until("the window has its size", func() bool {
		s := x.state()
		if math.Abs(s.Width*k-float64(w)) < 2 && math.Abs(s.Tall*k-float64(h)) < 2 {
			return true
		}
		x.do("windowmove", x.id, "0", "0", "windowsize", x.id, strconv.Itoa(w), strconv.Itoa(h))
		time.Sleep(300 * time.Millisecond)
		return false
	})
	x.do("windowactivate", "--sync", x.id)
	return x
}

func (d *desk) factor() float64 {
	k, err := strconv.ParseFloat(d.scale, 64)
	require.NoError(d.t, err)
	return k
}

// run runs a tool on the desk.
func (d *desk) run(name string, args ...string) (string, error) {
	c := exec.Command(name, args...)
	c.Env = d.env
	out, err := c.CombinedOutput()
	return string(out), err
}

// quit ends the program by a signal.
func (w *window) quit(s syscall.Signal) { end(w.cmd, s) }

// state is what the program tells of itself; the names are those of its answer.
type state struct {
	Frame                                              int
	Title, Pivot, Trial, Load, Height, Unit, Tight     string
	Left, Right, Length                                float64
	At                                                 []float64
	Readings, Findings, Lines, Asked, Told, Menu       []string
	Pad, Card, Hooked                                  []string
	Checked, Undo, Redo, Measured, File, Saved, Drawer string
	Dirty, Demo, Live, Full, Dark, Choosing            bool
	Scale, Focus                                       string
	Width, Tall                                        float64
	Overlays                                           int
}

// sameStep reports whether nothing of what undo and redo change differs: steps may have the same label.
func (s state) sameStep(o state) bool {
	return s.Undo == o.Undo && s.Redo == o.Redo && s.Dirty == o.Dirty && s.Pivot == o.Pivot && slices.Equal(s.At, o.At) && slices.Equal(s.Readings, o.Readings)
}

// reading is the words of a reading by its name.
func (s state) reading(name string) string {
	for _, r := range s.Readings {
		if words, ok := strings.CutPrefix(r, name+": "); ok {
			return words
		}
	}
	return ""
}

// number is the first number in a reading's words.
func (s state) number(name string) float64 {
	for _, f := range strings.Fields(s.reading(name)) {
		if v, err := strconv.ParseFloat(strings.ReplaceAll(f, "−", "-"), 64); err == nil {
			return v
		}
	}
	return math.NaN()
}

// having returns the first line that has all the given words, whatever their case.
func having(lines []string, words ...string) string {
	for _, l := range lines {
		all := true
		for _, w := range words {
			all = all && strings.Contains(strings.ToLower(l), strings.ToLower(w))
		}
		if all {
			return l
		}
	}
	return ""
}

// question asks the program one line.
func (w *window) question(q string) ([]byte, error) {
	c, err := net.Dial("unix", w.probe)
	if err != nil {
		return nil, err
	}
	defer c.Close()
	_ = c.SetDeadline(time.Now().Add(patience))
	if _, err := io.WriteString(c, q+"\n"); err != nil {
		return nil, err
	}
	return bufio.NewReader(c).ReadBytes('\n')
}

func (w *window) state() state {
	w.t.Helper()
	data, err := w.question("state")
	require.NoError(w.t, err, "the program does not answer; it said: %s", &w.said)
	var s state
	require.NoError(w.t, json.Unmarshal(data, &s))
	return s
}

// where is the place of a named thing in the window, pixels.
func (w *window) where(name string) (x, y float64, ok bool) {
	w.t.Helper()
	data, err := w.question("where " + name)
	require.NoError(w.t, err)
	var at struct {
		X, Y  float64
		Error string
	}
	require.NoError(w.t, json.Unmarshal(data, &at))
	return at.X, at.Y, at.Error == ""
}

// place awaits a named thing and returns where it is, whole pixels.
func (w *window) place(name string) (x, y int) {
	w.t.Helper()
	w.until("there is a "+name, func() bool {
		fx, fy, ok := w.where(name)
		x, y = int(math.Round(fx)), int(math.Round(fy))
		return ok
	})
	return x, y
}

// until waits till a thing is so.
func (w *window) until(what string, is func() bool) {
	w.t.Helper()
	for last := time.Now().Add(patience); ; {
		if is() {
			return
		}
		if time.Now().After(last) {
			w.picture("failed")
			now, _ := w.question("state")
			w.t.Fatalf("waited in vain: %s\nthe window: %s\nit said: %s", what, now, &w.said)
		}
		time.Sleep(100 * time.Millisecond)
	}
}

// shows waits till the state is so, and returns it.
func (w *window) shows(what string, is func(state) bool) state {
	w.t.Helper()
	var s state
	w.until(what, func() bool { s = w.state(); return is(s) })
	return s
}

// settled waits till every figure is of the geometry as it stands.
func (w *window) settled() state {
	w.t.Helper()
	return w.shows("figures worked out", func(s state) bool { return s.Live && s.Full })
}

// --- the hand ---

// do is one call of the mouse and the keys.
func (w *window) do(args ...string) {
	w.t.Helper()
	out, err := w.run("xdotool", args...)
	require.NoError(w.t, err, "%s", out)
}

func (w *window) move(x, y int) {
	w.t.Helper()
	w.do("mousemove", "--window", w.id, strconv.Itoa(x), strconv.Itoa(y))
}

const moment = 60 * time.Millisecond

// press presses a named thing.
func (w *window) press(name string) {
	w.t.Helper()
	x, y := w.place(name)
	w.move(x, y)
	time.Sleep(2 * moment)
	w.do("mousedown", "1")
	time.Sleep(moment)
	w.do("mouseup", "1")
	time.Sleep(moment)
}

// drag takes a named thing and leads it by so many pixels: a press, ten small moves, a pause, a release.
func (w *window) drag(name string, dx, dy int) {
	w.t.Helper()
	x, y := w.place(name)
	w.move(x, y)
	time.Sleep(2 * moment)
	w.do("mousedown", "1")
	for i := 1; i <= 10; i++ {
		time.Sleep(moment / 2)
		w.move(x+dx*i/10, y+dy*i/10)
	}
	time.Sleep(4 * moment)
	w.do("mouseup", "1")
	time.Sleep(moment)
}

// keys presses keys one after the other.
func (w *window) keys(names ...string) {
	w.t.Helper()
	for _, n := range names {
		w.do("key", n)
		time.Sleep(moment)
	}
}

// write replaces what stands in the field that has the focus.
func (w *window) write(text string) {
	w.t.Helper()
	w.keys("ctrl+a")
	w.do("type", "--delay", "25", "--", text)
	time.Sleep(moment)
}

// choose opens a menu by pressing a named thing and takes an entry by the keys; an entry of a menu within is "Outer > Inner".
func (w *window) choose(button, entry string) {
	w.t.Helper()
	w.press(button)
	s := w.shows("a menu opens under "+button, func(s state) bool { return len(s.Menu) > 0 })
	outer, inner, within := strings.Cut(entry, " > ")
	// downs counts the presses of Down that reach an entry among those that begin with a prefix and have nothing deeper.
	downs := func(prefix, name string) int {
		n := 0
		for _, m := range s.Menu {
			rest, ok := strings.CutPrefix(m, prefix)
			if !ok || strings.Contains(rest, " > ") {
				continue
			}
			n++
			if strings.HasPrefix(rest, name) {
				return n
			}
		}
		require.Failf(w.t, "no such entry", "%q in %q", name, s.Menu)
		return 0
	}
	for range downs("", outer) {
		w.keys("Down")
	}
	if within {
		full := ""
		for _, m := range s.Menu {
			if strings.HasPrefix(m, outer) {
				full = m
				break
			}
		}
		w.keys("Right")
		for range downs(full+" > ", inner) - 1 {
			w.keys("Down")
		}
	}
	w.keys("Return")
	w.shows("the menu closes", func(s state) bool { return len(s.Menu) == 0 })
}

// saveIn answers the file dialog: the name is typed, Enter takes it.
func (w *window) saveIn(name string) {
	w.t.Helper()
	w.shows("a file is being chosen", func(s state) bool { return s.Choosing })
	w.write(name)
	w.keys("Return")
	w.shows("the file dialog closes", func(s state) bool { return !s.Choosing })
}

// caution reads the caution away.
func (w *window) caution() {
	w.t.Helper()
	w.shows("the caution is shown", func(s state) bool { return len(s.Asked) == 1 && s.Asked[0] == "Before you begin" })
	w.press("answer I have read this")
	w.shows("the caution is gone", func(s state) bool { return len(s.Asked) == 0 })
}

// screens is where pictures are kept, from this package's folder.
var screens = filepath.Join("..", "..", "out", "screens")

// picture keeps what the screen shows once nothing changes any more.
func (w *window) picture(name string) {
	w.t.Helper()
	require.NoError(w.t, os.MkdirAll(screens, 0o755))
	at := filepath.Join(screens, name+".png")
	shoot := func() []byte {
		out, err := w.run("import", "-window", "root", at)
		require.NoError(w.t, err, "%s", out)
		data, err := os.ReadFile(at)
		require.NoError(w.t, err)
		return data
	}
	for last, i := shoot(), 0; i < 8; i++ { // what is drawn later than its figures are ready is waited for
		time.Sleep(300 * time.Millisecond)
		now := shoot()
		if len(now) == len(last) {
			return
		}
		last = now
	}
}
