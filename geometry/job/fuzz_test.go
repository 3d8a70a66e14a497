package job_test

import (
	"bytes"
	"strings"
	"testing"

	"axleloft/assets"
	"axleloft/geometry/job"
)

// FuzzRead: whatever the bytes, Read answers with a job or with complaints; a job that reads is written so that it reads back to the same bytes.
func FuzzRead(f *testing.F) {
	for _, name := range assets.Demos() {
		f.Add(assets.Demo(name))
	}
	f.Add([]byte(fullJob))
	f.Add([]byte(`{"format": "axleloft-job", "version": 1, "vehicle": {"wheelbase": 1, "track": 1, "tyre": {"loadedRadius": 1}}}`))
	f.Add([]byte(`{"format":"axleloft-job","version":1,"links":[{"name":"\ud83d\ude00","frame":[1e-9,-0,NaN]}]`))
	f.Fuzz(func(t *testing.T, data []byte) {
		j, err := job.Read(bytes.NewReader(data))
		if err != nil {
			if j != nil || !strings.HasSuffix(err.Error(), "Nothing was loaded and your file is unchanged.") {
				t.Fatalf("refused with a job or without its sentence: %v", err)
			}
			return
		}
		job.Expand(j)
		for i := range j.Trials {
			if _, err := j.WithTrial(j.Trials[i].Name); err != nil {
				t.Fatal(err)
			}
		}
		var first, second bytes.Buffer
		if err := job.Write(&first, j); err != nil {
			t.Fatalf("what was read cannot be written: %v", err)
		}
		again, err := job.Read(bytes.NewReader(first.Bytes()))
		if err != nil {
			t.Fatalf("what was written cannot be read: %v\n%s", err, first.Bytes())
		}
		if err := job.Write(&second, again); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(first.Bytes(), second.Bytes()) {
			t.Fatalf("not stable:\n%s\n%s", first.Bytes(), second.Bytes())
		}
	})
}
