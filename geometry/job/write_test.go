package job_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func written(t testing.TB, j *job.Job) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, job.Write(&b, j))
	return b.String()
}

// The demo jobs are kept in the house layout, so writing one gives its own bytes.
func TestWriteDemosToTheByte(t *testing.T) {
	for _, name := range assets.Demos() {
		t.Run(name, func(t *testing.T) {
			want := bytes.ReplaceAll(assets.Demo(name), []byte(`"driveShare": 1.0`), []byte(`"driveShare": 1`))
			assert.Equal(t, string(want), written(t, demo(t, name)))
		})
	}
}

func TestWriteEveryKeyToTheByte(t *testing.T) {
	j, err := job.Read(strings.NewReader(fullJob))
	require.NoError(t, err)
	got := written(t, j)
	assert.Equal(t, fullJob, got)
	again, err := job.Read(strings.NewReader(got))
	require.NoError(t, err)
	assert.Equal(t, j, again)
	assert.Equal(t, got, written(t, again))
}

// "None" and "as drawn" are two things in a trial, and stay two through a file.
func TestWriteKeepsNoneApartFromAsDrawn(t *testing.T) {
	j, err := job.Read(strings.NewReader(fullJob))
	require.NoError(t, err)
	j.Trials[0].Arms = nil
	again, err := job.Read(strings.NewReader(written(t, j)))
	require.NoError(t, err)
	assert.Nil(t, again.Trials[0].Arms)
	assert.NotNil(t, again.Trials[0].Rockers)
	assert.Empty(t, again.Trials[0].Rockers)
	w, err := again.WithTrial("Another layout")
	require.NoError(t, err)
	assert.Len(t, w.Arms, 2)
	assert.Empty(t, w.Rockers)
}

func TestWriteNumbersInTheirShortestForm(t *testing.T) {
	j := demo(t, "rescue-tender")
	for _, tc := range []struct {
		x    float64
		want string
	}{
		{1050, "1050"}, {-0.5, "-0.5"}, {0.1, "0.1"}, {1.0 / 3, "0.3333333333333333"}, {99999.99999999999, "99999.99999999999"},
		{1e-6, "0.000001"}, {1e-7, "1e-07"}, {math.Copysign(0, -1), "0"}, {100000, "100000"}, {-1e-300, "-1e-300"},
	} {
		j.Lines[0].Frame[0] = tc.x
		text := written(t, j)
		assert.Contains(t, text, `"frame": [`+tc.want+`, 300, 720]`)
		again, err := job.Read(strings.NewReader(text))
		require.NoError(t, err)
		assert.Equal(t, tc.x+0, again.Lines[0].Frame[0], "the same double")
	}
	j.SetAside = []job.SetAside{{Finding: "f", Reason: "r", Numbers: map[string]float64{"million": 1e6, "more": 1.25e11}}}
	assert.Contains(t, written(t, j), `{"million": 1000000, "more": 125000000000}`)
}

func TestWriteText(t *testing.T) {
	j := demo(t, "rescue-tender")
	j.Title = "Ü <b> & \u2028 \"q\" \\ \t \r\n \x01 \u00a0 日本 😀"
	text := written(t, j)
	assert.Contains(t, text, `"title": "Ü <b> & `+"\u2028"+` \"q\" \\ \t \r\n \u0001 `+"\u00a0"+` 日本 😀"`)
	assert.True(t, strings.HasSuffix(text, "}\n"))
	again, err := job.Read(strings.NewReader(text))
	require.NoError(t, err)
	assert.Equal(t, j.Title, again.Title)
	assert.True(t, json.Valid([]byte(text)))
	// Escapes are read, and written plainly.
	again, err = job.Read(strings.NewReader(strings.Replace(text, "日本 😀", `\u65e5\u672C \ud83d\ude00`, 1)))
	require.NoError(t, err)
	assert.Equal(t, j.Title, again.Title)
}

func TestWriteBreaksLongLists(t *testing.T) {
	j := demo(t, "rescue-tender")
	tank := &j.Envelopes[5]
	require.Equal(t, "Side tank", tank.Name)
	tank.Outline = nil
	for i := range 100 {
		s, c := math.Sincos(2 * math.Pi * float64(i) / 100)
		tank.Outline = append(tank.Outline, job.Point2{1000 + 300*c, 600 + 100*s})
	}
	text := written(t, j)
	for line := range strings.Lines(text) {
		if !strings.Contains(line, `"notes"`) {
			assert.LessOrEqual(t, len(line), 153, line)
		}
		assert.NotRegexp(t, `^\s*\[?-?[0-9.]+,?$`, line, "no coordinate stands alone on a line")
	}
	again, err := job.Read(strings.NewReader(text))
	require.NoError(t, err)
	assert.Equal(t, j, again)
}

// What could not be read again is not written.
func TestWriteRefusesWhatReadWouldRefuse(t *testing.T) {
	j := demo(t, "rescue-tender")
	j.Struts[0].Closed = j.Struts[0].Open
	var b bytes.Buffer
	err := job.Write(&b, j)
	require.ErrorContains(t, err, "Not saved: struts[0].closed: Closed is 644 and open is 644 mm")
	assert.True(t, strings.HasSuffix(err.Error(), " What was on the disk is unchanged."), err.Error())
	assert.Zero(t, b.Len())

	name := filepath.Join(t.TempDir(), "a.axleloft")
	require.NoError(t, os.WriteFile(name, []byte("old"), 0o600))
	require.Error(t, job.WriteFile(name, j))
	assert.Equal(t, "old", content(t, name))

	j = demo(t, "rescue-tender")
	j.Notes = strings.Repeat("x", job.MaxSize)
	require.ErrorContains(t, job.Write(&b, j), "larger than 16 MB")
}

func content(t *testing.T, name string) string {
	t.Helper()
	b, err := os.ReadFile(name)
	require.NoError(t, err)
	return string(b)
}

func TestWriteFile(t *testing.T) {
	j := demo(t, "rescue-tender")
	want := written(t, j)
	dir := t.TempDir()
	name := filepath.Join(dir, "new.axleloft")
	require.NoError(t, job.WriteFile(name, j))
	assert.Equal(t, want, content(t, name))
	again, err := job.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, j, again)

	// An old file is replaced and keeps its permissions; a link stays a link.
	old := filepath.Join(dir, "old.axleloft")
	require.NoError(t, os.WriteFile(old, []byte("old"), 0o600))
	require.NoError(t, os.Chmod(old, 0o640))
	link := filepath.Join(dir, "link.axleloft")
	require.NoError(t, os.Symlink("old.axleloft", link))
	require.NoError(t, job.WriteFile(link, j))
	assert.Equal(t, want, content(t, old))
	info, err := os.Lstat(old)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o640), info.Mode())
	info, err = os.Lstat(link)
	require.NoError(t, err)
	assert.Equal(t, os.ModeSymlink, info.Mode().Type())

	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 3, "nothing is left lying about")
}

func TestWriteFileFailures(t *testing.T) {
	j := demo(t, "rescue-tender")
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	require.NoError(t, os.WriteFile(file, []byte("old"), 0o400))
	for _, tc := range []struct{ name, path, want string }{
		{"no folder", filepath.Join(dir, "none", "a.axleloft"), "Not saved: there is no such file or folder. Save it somewhere else."},
		{"under a file", filepath.Join(file, "a.axleloft"), "Not saved: part of its path is a file, not a folder."},
		{"on a folder", dir, "is a folder. Give a file name in it."},
		{"read-only file", file, "Not saved: the file is read-only."},
		{"name too long", filepath.Join(dir, strings.Repeat("a", 300)), "Not saved: its name is too long."},
	} {
		t.Run(tc.name, func(t *testing.T) {
			err := job.WriteFile(tc.path, j)
			require.ErrorContains(t, err, tc.want)
			assert.NotContains(t, err.Error(), "open /")
			assert.NotContains(t, err.Error(), "errno")
		})
	}
	assert.Equal(t, "old", content(t, file))
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 1)
}

func TestTidy(t *testing.T) {
	j := demo(t, "orchard-sprayer")
	assert.False(t, j.Tidy())
	j.Links = j.Links[:2] // the Panhard rod goes
	require.Empty(t, job.Check(j), "a name that nothing goes by carries nothing; it is no mistake")
	assert.True(t, j.Tidy())
	assert.Nil(t, job.Check(j))
	assert.Equal(t, []string{"Lower"}, j.Envelopes[0].Carries)
}
