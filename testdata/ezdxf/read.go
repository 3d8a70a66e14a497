// Package ezdxf has ezdxf, the MIT-licensed reader that Debian packages as python3-ezdxf, read and audit what the project writes as DXF.
package ezdxf

import (
	"bytes"
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// Read is what ezdxf finds in a drawing.
type Read struct {
	Version string
	Units   int      // $INSUNITS
	Errors  []string // what its audit complains of, or mends
	Layers  map[string]struct {
		Colour, Width int
		Line          string
	}
	Types    map[string][]float64 // patterns of line types
	Entities []Entity
}

// Entity is one thing of model space: N are the numbers of its places (LINE: two places; CIRCLE: middle, radius; ARC: and its angles; LWPOLYLINE: x, y,
// bulge a corner; TEXT: its place).
type Entity struct {
	Kind, Layer, Words string
	N                  []float64
	Closed             bool
	Turned, Height     float64
	Align              string
}

const (
	python = "/usr/bin/python3"
	script = "../../testdata/ezdxf/read.py" // from a room
)

// Of writes a drawing and has it read. Where ezdxf is missing the test is skipped, unless AXLELOFT_REQUIRE_REFERENCES=1 says it must be there: then
// it fails.
func Of(t testing.TB, d io.WriterTo) Read {
	t.Helper()
	if err := exec.Command(python, "-c", "import ezdxf").Run(); err != nil {
		if os.Getenv("AXLELOFT_REQUIRE_REFERENCES") == "1" {
			require.NoError(t, err, "ezdxf is required here: apt-get install python3-ezdxf")
		}
		t.Skip("ezdxf is not installed (Debian: python3-ezdxf)")
	}
	_, err := os.Stat(script) // also tells the test cache what the result hangs on
	require.NoError(t, err)
	var b bytes.Buffer
	_, err = d.WriteTo(&b)
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "drawing.dxf")
	require.NoError(t, os.WriteFile(file, b.Bytes(), 0o600))
	cmd := exec.Command(python, script, file)
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	require.NoError(t, err, complaint.String())
	var got Read
	require.NoError(t, json.Unmarshal(out, &got))
	return got
}
