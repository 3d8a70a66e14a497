//go:build unix

package document

import (
	"bufio"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Where a child of these tests works, and at what; set only in the child.
const (
	childFile  = "AXLELOFT_TEST_FILE"
	childState = "AXLELOFT_TEST_STATE"
)

func TestMain(m *testing.M) {
	if file := os.Getenv(childFile); file != "" {
		if err := editTillKilled(file, os.Getenv(childState)); err != nil {
			fmt.Println("error", err)
		}
		return
	}
	os.Exit(m.Run())
}

// editTillKilled does what a person does who starts the program again after each power cut: brings back what was lost, edits without end, the
// title counting the edits, and saves now and then. It says what it is about to do, and what was kept.
func editTillKilled(file, state string) error {
	autosaveDelay = 5 * time.Millisecond
	o := Options{StateDir: state, Autosave: true}
	var d *Document
	var err error
	lost := FindLost(state, []string{file})
	switch seed := filepath.Join(filepath.Dir(file), "seed"); {
	case len(lost) > 0:
		d, err = Recover(lost[0], o)
	case file == resolved(file) && fileSum(file) == nil: // a demo, in no file
		var j *job.Job
		if j, err = job.ReadFile(seed); err == nil {
			d = New(j, true, o)
		}
	default:
		d, err = Open(file, o)
	}
	if err != nil {
		return err
	}
	if words := d.Elsewhere(); words != "" {
		return errors.New(words)
	}
	d.keeper.disk.Lock()
	d.keeper.written = func(j *job.Job) { fmt.Println("kept", j.Title) }
	d.keeper.disk.Unlock()
	n, err := strconv.Atoi(d.Job().Title)
	if err != nil {
		return err
	}
	for n++; ; n++ {
		fmt.Println("edit", n)
		if err := d.Edit("count", "", title(strconv.Itoa(n))); err != nil {
			return err
		}
		if n%6 == 0 && d.File() != "" {
			fmt.Println("saving", n)
			if err := d.Save(); err != nil {
				return err
			}
			fmt.Println("saved", n)
		}
	}
}

// kills starts the child, kills it at some moment, and returns the last number said behind each word.
func kills(t *testing.T, file, state string, after time.Duration) map[string]int {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	cmd := exec.Command(self, "-test.run=^$")
	cmd.Env = append(os.Environ(), childFile+"="+file, childState+"="+state)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	said := map[string]int{}
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		word, rest, _ := strings.Cut(lines.Text(), " ")
		require.NotEqual(t, "error", word, lines.Text())
		n, err := strconv.Atoi(rest)
		if err != nil {
			break // cut off by the kill
		}
		if len(said) == 0 {
			time.AfterFunc(after, func() { _ = cmd.Process.Kill() })
		}
		said[word] = n
	}
	_ = cmd.Wait() // killed: always an error
	require.NotEmpty(t, said)
	return said
}

// anyMoment is how long a program is left before it is killed; where a busy machine lets it do nothing in that time (late rounds), longer each time.
func anyMoment(random *rand.Rand, late int) time.Duration {
	return time.Duration(random.IntN(80_000)*max(1, late)) * time.Microsecond
}

// numbered is the count a job file holds; the file must be whole.
func numbered(t *testing.T, name string) int {
	t.Helper()
	j, err := job.ReadFile(name)
	require.NoError(t, err, "whole, whatever the moment")
	require.Empty(t, job.Check(j))
	n, err := strconv.Atoi(j.Title)
	require.NoError(t, err)
	return n
}

func names(t *testing.T, dir string) []string {
	t.Helper()
	list, err := os.ReadDir(dir)
	require.NoError(t, err)
	var out []string
	for _, e := range list {
		out = append(out, e.Name())
	}
	return out
}

// A program is killed fifty times, at any moment of editing, saving and keeping aside, and started again each time. The file is whole and is the
// old one or the new one; what was said to be kept or saved is there; what is offered is never older than the file; nothing piles up.
func TestFiftyKillsLoseNothing(t *testing.T) {
	dir, state := t.TempDir(), t.TempDir()
	file := filepath.Join(dir, "job.axleloft")
	j := demo(t, "survey-wagon")
	j.Title = "0"
	require.NoError(t, job.WriteFile(file, j))
	random := rand.New(rand.NewPCG(1, 1))
	offered, written := 0, 0
	saved, safe := 0, 0 // in the file after the last kill; in it or kept aside for certain
	for round := 0; round < 50 || (offered == 0 || written == 0) && round < 90; round++ {
		said := kills(t, file, state, anyMoment(random, round-49))
		safe = max(safe, said["kept"], said["saved"])
		in := numbered(t, file)
		assert.Contains(t, []int{max(saved, said["saved"]), max(saved, said["saving"])}, in, "round %d: the old one or the new one", round)
		if in != saved {
			written++
		}
		saved = in
		if backup := job.BeforeName(file); fileSum(backup) != nil {
			assert.LessOrEqual(t, numbered(t, backup), in, "round %d", round)
		}
		assert.LessOrEqual(t, len(names(t, dir)), 5, "round %d: %q", round, names(t, dir)) // job, before, kept aside, held, one half written
		assert.LessOrEqual(t, len(names(t, state)), 3, "round %d: %q", round, names(t, state))

		lost := FindLost(state, []string{file})
		best := in
		if len(lost) > 0 {
			offered++
			require.Len(t, lost, 1, "round %d", round)
			assert.Equal(t, file, lost[0].File)
			best = numbered(t, lost[0].Autosave)
			assert.Greater(t, best, in, "round %d: no older work is offered", round)
		}
		assert.GreaterOrEqual(t, best, safe, "round %d", round)
		assert.LessOrEqual(t, best, said["edit"], "round %d", round)
		safe = best
	}
	assert.Positive(t, offered)
	assert.Positive(t, written)
	if lost := FindLost(state, []string{file}); len(lost) > 0 {
		d, err := Recover(lost[0], Options{StateDir: state, Autosave: true})
		require.NoError(t, err)
		require.NoError(t, d.Save())
		d.Close()
	} else {
		d, err := Open(file, Options{StateDir: state, Autosave: true})
		require.NoError(t, err)
		d.Close()
	}
	assert.Equal(t, safe, numbered(t, file))
	assert.Equal(t, []string{"job.axleloft", "job.before.axleloft"}, names(t, dir), "nothing lies about")
	FindLost(state, nil)
	assert.Empty(t, names(t, state), "nothing lies about")
}

// The same for a demo that is in no file.
func TestKillsOfAJobInNoFile(t *testing.T) {
	dir, state := t.TempDir(), t.TempDir()
	j := demo(t, "survey-wagon")
	j.Title = "0"
	require.NoError(t, job.WriteFile(filepath.Join(dir, "seed"), j))
	random := rand.New(rand.NewPCG(2, 1))
	safe := 0
	for round := 0; round < 10 || safe == 0 && round < 50; round++ {
		said := kills(t, filepath.Join(dir, "none.axleloft"), state, anyMoment(random, round-9))
		safe = max(safe, said["kept"])
		lost := FindLost(state, nil)
		if safe > 0 {
			require.Len(t, lost, 1, "round %d", round)
			assert.Empty(t, lost[0].File)
			assert.True(t, lost[0].Demo)
			n := numbered(t, lost[0].Autosave)
			assert.GreaterOrEqual(t, n, safe, "round %d", round)
			safe = n
		}
		assert.LessOrEqual(t, len(names(t, state)), 3, "round %d: %q", round, names(t, state))
	}
	require.Positive(t, safe)
	d, err := Recover(FindLost(state, nil)[0], Options{StateDir: state, Autosave: true})
	require.NoError(t, err)
	require.NoError(t, d.SaveAs(filepath.Join(dir, "job.axleloft")))
	d.Close()
	FindLost(state, nil)
	assert.Empty(t, names(t, state), "nothing lies about")
	assert.Equal(t, []string{"job.axleloft", "seed"}, names(t, dir))
}

// Little enough lies between a change and its autosave that a kill costs less than five seconds.
func TestTheAutosaveIsSoon(t *testing.T) {
	assert.LessOrEqual(t, autosaveDelay, 2*time.Second)
}
