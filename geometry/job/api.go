package job

import (
	"io"
)

// Write writes the job in the house layout; Write(Read(Write(j))) is the same to the byte.
func Write(w io.Writer, j *Job) error { panic("not built") }

// WriteFile writes the file whole or not at all (renameio); the old one stays on any failure.
func WriteFile(name string, j *Job) error { panic("not built") }

// Schema returns the JSON Schema (draft 2020-12) of the job file.
func Schema() []byte { panic("not built") }
