// Package cmd holds no code of its own, only the test of which room may use which.
package cmd

import (
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const (
	module = "axleloft/"
	window = "fyne.io/fyne/v2"
)

// geometryRooms lists which rooms of geometry each may use. A new room gets a line here.
var geometryRooms = map[string][]string{
	"alike":     {},
	"job":       {},
	"measure":   {},
	"shape":     {},
	"motion":    {"job", "alike"},
	"quantity":  {"job", "motion"},
	"cell":      {"job", "motion"},
	"clearance": {"job", "motion", "quantity", "shape", "cell", "alike"},
	"limits":    {"job", "motion", "quantity", "clearance", "cell", "alike"},
	"plate":     {"job"},
	"swept":     {"motion", "clearance", "cell", "shape"},
	"vessel":    {"job", "motion", "clearance", "cell", "shape"},
}

// levels, lowest first: a room may use those of its own level and below. assets, data only, may be used by all but itself uses none.
var levels = []string{"geometry", "plotting", "app", "cmd"}

// withoutWidgets are the rooms of app that compute, and never draw a widget.
var withoutWidgets = []string{"app/study", "app/document", "app/edit", "app/start", "app/view", "app/headless", "app/words"}

// list runs go list over the module and returns a line a package, split at blanks.
func list(t *testing.T, args ...string) [][]string {
	t.Helper()
	cmd := exec.Command("go", append([]string{"list"}, args...)...)
	cmd.Dir = ".."
	var stderr strings.Builder
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	require.NoError(t, err, stderr.String())
	var lines [][]string
	for line := range strings.Lines(string(out)) {
		if f := strings.Fields(line); len(f) > 0 {
			lines = append(lines, f)
		}
	}
	require.NotEmpty(t, lines)
	return lines
}

// split returns the level and the room of one of our packages: "geometry", "job".
func split(path string) (level, room string) {
	level, room, _ = strings.Cut(strings.TrimPrefix(path, module), "/")
	return level, room
}

func rank(level string) int {
	for i, l := range levels {
		if l == level {
			return i
		}
	}
	return -1
}

// forbidden says why a package may not import another one of ours directly; "" if it may.
func forbidden(from, to string) string {
	fromLevel, fromRoom := split(from)
	toLevel, toRoom := split(to)
	switch {
	case fromLevel == "assets":
		return "assets uses no room"
	case toLevel == "assets":
		if fromLevel == "geometry" || fromLevel == "plotting" {
			return "only app and cmd ship what is embedded"
		}
		return ""
	case rank(fromLevel) < 0 || rank(toLevel) < 0:
		return "one of them is in no known room"
	case rank(fromLevel) < rank(toLevel):
		return "arrows point cmd -> app -> plotting -> geometry"
	case fromLevel == "cmd" && toLevel != "app":
		return "cmd only starts app"
	case fromLevel == "geometry":
		allowed, known := geometryRooms[fromRoom]
		if !known {
			return "a room of geometry without a line in this test"
		}
		for _, room := range allowed {
			if room == toRoom {
				return ""
			}
		}
		return "no arrow between these rooms of geometry is drawn"
	}
	return ""
}

func TestArrows(t *testing.T) {
	for _, f := range list(t, "-f", "{{.ImportPath}} {{join .Imports \" \"}}", "./...") {
		from := f[0]
		for _, to := range f[1:] {
			if strings.HasPrefix(to, module) {
				assert.Empty(t, forbidden(from, to), "%s imports %s", from, to)
			}
			if to == window+"/app" {
				assert.Equal(t, module+"cmd/axleloft", from, "only the window's command starts the window system")
			}
		}
	}
}

// The arrows themselves would catch a wrong one.
func TestForbidden(t *testing.T) {
	for _, c := range []struct {
		from, to string
		may      bool
	}{
		{"geometry/limits", "geometry/clearance", true},
		{"geometry/motion", "geometry/quantity", false},
		{"geometry/shape", "geometry/job", false},
		{"geometry/clearance", "geometry/limits", false},
		{"geometry/newcomer", "geometry/job", false},
		{"geometry/job", "plotting/ink", false},
		{"plotting/chart", "app/study", false},
		{"plotting/chart", "geometry/motion", true},
		{"app/study", "plotting/chart", true},
		{"app/study", "cmd/axlesheet", false},
		{"cmd/axlesheet", "app/headless", true},
		{"cmd/axlesheet", "geometry/job", false},
		{"app/bench", "assets", true},
		{"geometry/job", "assets", false},
		{"assets", "geometry/job", false},
		{"testdata/newcomer", "geometry/job", false},
	} {
		assert.Equal(t, c.may, forbidden(module+c.from, module+c.to) == "", "%s imports %s", c.from, c.to)
	}
}

// geometry and plotting are free of the window, whatever they use uses; so are the rooms of app that compute, and the command without a window.
func TestFreeOfTheWindow(t *testing.T) {
	free := []string{"./geometry/...", "./plotting/...", "./cmd/axlesheet"}
	for _, room := range withoutWidgets {
		free = append(free, "./"+room)
	}
	for _, f := range list(t, append([]string{"-deps", "-f", "{{.ImportPath}}"}, free...)...) {
		assert.False(t, strings.HasPrefix(f[0], window), "%s is used where no window is known", f[0])
	}
}

// All but the window's command builds without a C compiler: nothing they use is partly C, the standard library aside, which can do without.
func TestNoC(t *testing.T) {
	const format = "{{if not .Standard}}{{if .CgoFiles}}{{.ImportPath}}{{end}}{{end}}"
	cmd := exec.Command("go", "list", "-deps", "-f", format, "./geometry/...", "./plotting/...", "./app/...", "./cmd/axlesheet")
	cmd.Dir = ".."
	cmd.Env = append(cmd.Environ(), "CGO_ENABLED=1")
	out, err := cmd.Output()
	require.NoError(t, err)
	assert.Empty(t, strings.Fields(string(out)), "packages with C")
}
