package bench

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"

	"axleloft/app/document"
	"axleloft/app/headless"
	"axleloft/app/words"
	"axleloft/geometry/job"
)

// writeNumbers writes what the command writes for the open job: "sweep" every quantity over the travel, "clearance" every gap. The job as it
// stands goes through a file of its own, so that both say the same.
func (b *Bench) writeNumbers(w io.Writer, what string) error {
	args := []string{what, "--format", "csv"}
	if loads := b.doc.Current().Vehicle.Loads; what == "sweep" && b.doc.Load() < len(loads) {
		args = append(args, "--load", loads[b.doc.Load()].Name)
	}
	return writeOf(w, b.doc.Job(), b.jobFolder(), b.doc.Trial(), args...)
}

// jobFolder is where the open job's file lies, "" while it has none.
func (b *Bench) jobFolder() string {
	if b.doc.File() == "" {
		return ""
	}
	return filepath.Dir(b.doc.File())
}

// writeOf writes what the command writes for a job that lies in a folder, with a trial chosen: args are the sub-command and its flags. From any goroutine.
func writeOf(w io.Writer, j *job.Job, folder, trial string, args ...string) error {
	dir, err := os.MkdirTemp("", "axleloft")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	name := filepath.Join(dir, "job"+document.Ending)
	if err := job.WriteFile(name, j); err != nil {
		return err
	}
	for _, file := range job.FilesBeside(j) { // one that cannot be read is told by the command as it is in the window
		if data, err := os.ReadFile(filepath.Join(folder, file)); err == nil && folder != "" {
			if err := job.WriteBeside(dir, file, data); err != nil {
				return err
			}
		}
	}
	args = append([]string{args[0], name}, args[1:]...)
	if trial != "" {
		args = append(args, "--trial", trial)
	}
	var out, said bytes.Buffer
	if code := headless.Run(args, strings.NewReader(""), &out, &said); code > 1 {
		phrase := strings.TrimSpace(said.String())
		if phrase == "" {
			phrase = words.F("The numbers could not be worked out (%d).", code)
		}
		return errors.New(phrase)
	}
	_, err = w.Write(out.Bytes())
	return err
}
