package job_test

import (
	"bytes"
	"encoding/json"
	"sort"
	"strings"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// compiled compiles the schema with an independent validator.
func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(job.Schema()))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("job.json", doc))
	s, err := c.Compile("job.json")
	require.NoError(t, err)
	return s
}

func instance(t *testing.T, text string) any {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	require.NoError(t, err)
	return v
}

func TestSchemaTakesDemosAndFullJob(t *testing.T) {
	s := compiled(t)
	for _, name := range assets.Demos() {
		assert.NoError(t, s.Validate(instance(t, string(assets.Demo(name)))), name)
	}
	assert.NoError(t, s.Validate(instance(t, fullJob)))
}

func TestSchemaRefuses(t *testing.T) {
	s := compiled(t)
	base := string(assets.Demo("rescue-tender"))
	for _, tc := range []struct{ name, from, to string }{
		{"unknown key", `"clearance": 15`, `"clearence": 15`},
		{"unknown key at the top", `"title":`, `"titel":`},
		{"missing wheelbase", `"wheelbase": 3550,`, ``},
		{"text for a number", `"wheelbase": 3550`, `"wheelbase": "3550"`},
		{"out of range", `"wheelbase": 3550`, `"wheelbase": 1e300`},
		{"zero track", `"track": 1740`, `"track": 0`},
		{"two coordinates", `[1050, 437, 430]`, `[1050, 437]`},
		{"newer version", `"version": 1`, `"version": 2`},
		{"other format", `"axleloft-job"`, `"something"`},
		{"unknown kind", `"kind": "box"`, `"kind": "cube"`},
		{"box without max", `"max": [1400, 560, 960], `, ``},
		{"box with a radius", `"max": [1400, 560, 960]`, `"max": [1400, 560, 960], "radius": 3`},
		{"null", `"notes": "`, `"travel": null, "notes": "`},
		{"share above 1", `"driveShare": 1,`, `"driveShare": 1.5,`},
	} {
		t.Run(tc.name, func(t *testing.T) {
			bad := strings.Replace(base, tc.from, tc.to, 1)
			require.NotEqual(t, base, bad)
			assert.Error(t, s.Validate(instance(t, bad)))
			_, err := job.Read(strings.NewReader(bad))
			assert.Error(t, err, "the reader refuses it as well")
		})
	}
}

// The reader's keys are those it offers when it is given a wrong one; the schema's are its properties. A job with every key of every
// group the schema knows must read (so the reader knows all of them), and the groups of fullJob must have every key (so the schema has no fewer).
func TestSchemaAndReaderKnowTheSameKeys(t *testing.T) {
	var schema struct {
		Properties map[string]any `json:"properties"`
		Defs       map[string]struct {
			Properties map[string]struct {
				Description string `json:"description"`
			} `json:"properties"`
			Additional *bool `json:"additionalProperties"`
		} `json:"$defs"`
	}
	require.NoError(t, json.Unmarshal(job.Schema(), &schema))
	inSchema := map[string][]string{"Job": keysOf(schema.Properties)}
	for name, d := range schema.Defs {
		inSchema[name] = keysOf(d.Properties)
		require.NotNil(t, d.Additional, name)
		assert.False(t, *d.Additional, name)
		for k, p := range d.Properties {
			assert.NotEmpty(t, p.Description, "%s.%s", name, k)
		}
	}
	assert.Equal(t, job.ReaderKeys(), inSchema)

	described, used := job.FieldNames()
	assert.Equal(t, used, described, "every key has its description and every description its key")

	// Every key of every group stands in fullJob, which reads.
	_, err := job.Read(strings.NewReader(fullJob))
	require.NoError(t, err)
	for group, keys := range inSchema {
		for _, k := range keys {
			assert.Contains(t, fullJob, `"`+k+`":`, group)
		}
	}
}

func keysOf[V any](m map[string]V) []string {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}
