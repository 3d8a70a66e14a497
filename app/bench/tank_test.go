package bench

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"axleloft/app/panel"
	"axleloft/geometry/job"
	"axleloft/geometry/vessel"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A tank's panel opens on the tank it was asked for, and lays nothing over the views once it is closed.
func TestShowTank(t *testing.T) {
	b := open(t, Options{})
	b.showTank("Rear tank")
	assert.Equal(t, panel.TankDrawer, b.open)
	p, ok := b.doc.Selected()
	require.True(t, ok)
	assert.Equal(t, "Rear tank", b.doc.Current().Envelopes[p.Index].Name)
	b.show(panel.NoDrawer)
	assert.Empty(t, b.eye.Laid())
}

// The numbers of a tank are the command's own, of the job as it stands.
func TestTankNumbers(t *testing.T) {
	b := open(t, Options{})
	var out bytes.Buffer
	require.NoError(t, writeOf(&out, b.doc.Job(), "", "", "tank", "--vessel", "Tank shelf", "--tilt-x=-2", "--format", "json"))
	var got map[string]any
	require.NoError(t, json.Unmarshal(out.Bytes(), &got))
	assert.InDelta(t, 28.8, got["litres"], 0.05)
	assert.ErrorContains(t, writeOf(&out, b.doc.Job(), "", "", "tank", "--vessel", "Nothing"), "There is no tank called")
}

// A part whose shape lies beside the job is in the numbers too.
func TestNumbersOfAJobWithAShapeFile(t *testing.T) {
	b := open(t, Options{})
	dir := t.TempDir()
	const plate = "solid a\nfacet normal 0 0 0 outer loop vertex 0 0 2000 vertex 9 0 2000 vertex 0 9 2000 endloop endfacet\nendsolid a\n"
	require.NoError(t, os.WriteFile(filepath.Join(dir, "plate.stl"), []byte(plate), 0o600))
	require.NoError(t, b.doc.Edit("a plate", "", func(j *job.Job) error {
		j.Envelopes = append(j.Envelopes, job.Envelope{Name: "Plate", Kind: "mesh", File: "plate.stl"})
		return nil
	}))
	require.NoError(t, b.doc.SaveAs(filepath.Join(dir, "own")))
	b.doc.Settle()
	var out bytes.Buffer
	require.NoError(t, b.writeNumbers(&out, "clearance"))
	assert.Contains(t, out.String(), "Panhard rod,Plate,")
}

// A dip table goes to the file chosen; numbers are worked out behind the window, then written.
func TestTankFiles(t *testing.T) {
	b := open(t, Options{})
	at := filepath.Join(t.TempDir(), "dip.csv")
	b.saveDip("Shelf", []vessel.Level{{Depth: 5, Before: 1.5, After: 1.25}})
	require.NotNil(t, b.choosing)
	b.choosing.Hide()
	b.exportTo(at, dipTo("Shelf", []vessel.Level{{Depth: 5, Before: 1.5, After: 1.25}}))
	data, err := os.ReadFile(at)
	require.NoError(t, err)
	assert.Equal(t, "vessel,depth_mm,before_l,after_l\nShelf,5,1.5,1.25\n", string(data))

	at = filepath.Join(t.TempDir(), "cuts.csv")
	done := make(chan bool)
	b.post = func(f func()) { f(); close(done) }
	b.numbersTo(at, "csv", "tank", "--vessel", "Tank shelf", "--cuts")
	select {
	case <-done:
	case <-time.After(time.Minute):
		t.Fatal("nothing was written")
	}
	data, err = os.ReadFile(at)
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(string(data), "of,kind,cut,lost_l,faces\n"), "%.60s", data)
}
