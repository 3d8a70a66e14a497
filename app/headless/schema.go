package headless

import (
	"io"

	"axleloft/geometry/job"
)

type schemaCmd struct {
	Out string `short:"o" placeholder:"FILE" help:"Write the schema to FILE, whole or not at all, instead of standard output."`
}

// Run writes the schema.
func (c *schemaCmd) Run(e *env) error {
	return e.output(c.Out, func(w io.Writer) error {
		_, err := w.Write(job.Schema())
		return err
	})
}
