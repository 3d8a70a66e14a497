package job

// Schema returns the JSON Schema (draft 2020-12) of the job file.
func Schema() []byte { panic("not built") }
