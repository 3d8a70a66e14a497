package bench

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"axleloft/app/document"
	"axleloft/app/headless"
	"axleloft/geometry/job"
)

// writeNumbers writes what the command writes for the open job: "sweep" every quantity over the travel, "clearance" every gap. The job as it
// stands goes through a file of its own, so that both say the same.
func (b *Bench) writeNumbers(w io.Writer, what string) error {
	dir, err := os.MkdirTemp("", "axleloft")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	name := filepath.Join(dir, "job"+document.Ending)
	if err := job.WriteFile(name, b.doc.Job()); err != nil {
		return err
	}
	args := []string{what, name, "--format", "csv"}
	if t := b.doc.Trial(); t != "" {
		args = append(args, "--trial", t)
	}
	if loads := b.doc.Current().Vehicle.Loads; what == "sweep" && b.doc.Load() < len(loads) {
		args = append(args, "--load", loads[b.doc.Load()].Name)
	}
	var out, said bytes.Buffer
	if code := headless.Run(args, strings.NewReader(""), &out, &said); code > 1 {
		words := strings.TrimSpace(said.String())
		if words == "" {
			words = fmt.Sprintf("The numbers could not be worked out (%d).", code)
		}
		return errors.New(words)
	}
	_, err = w.Write(out.Bytes())
	return err
}
