package headless

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every sheet answers for a job of every layout: exit status 0, nothing on standard error, JSON and CSV that read back, no number that is none.
func TestEverySheetOfEveryLayout(t *testing.T) {
	files, err := filepath.Glob("../../testdata/layouts/*.axleloft")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for i, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".axleloft"), func(t *testing.T) {
			if testing.Short() && i%4 != 0 {
				t.Skip("short")
			}
			sheet := func(args ...string) []byte {
				var out, said bytes.Buffer
				require.Equal(t, done, Run(args, nil, &out, &said), "%v: %s", args, said.String())
				require.Empty(t, said.String())
				require.NotEmpty(t, out.Bytes())
				assert.NotContains(t, out.String(), "NaN")
				return out.Bytes()
			}
			for _, call := range [][]string{{"limits", file}, {"heights", file}, {"sweep", file, "--heave=-60:60:10"}} {
				text := sheet(call...)
				if call[0] != "sweep" {
					assert.Contains(t, string(text), "Geometry aid; not a certificate")
				}
				var any map[string]any
				require.NoError(t, json.Unmarshal(sheet(append(call, "--format", "json")...), &any))
				rows, err := csv.NewReader(bytes.NewReader(sheet(append(call, "--format", "csv")...))).ReadAll()
				require.NoError(t, err)
				assert.Greater(t, len(rows), 1)
				for _, row := range rows {
					assert.Len(t, row, len(rows[0]))
				}
			}
			assert.Contains(t, string(sheet("check", file)), "\nChecked: ")
		})
	}
}
