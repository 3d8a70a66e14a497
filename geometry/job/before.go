package job

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
)

const (
	ending       = ".axleloft"
	beforeEnding = ".before" + ending
)

// BeforeName is the name of the one backup of a job file, beside it: what the file held before it was last written. It is a job file like any
// other: "sprayer.axleloft" has "sprayer.before.axleloft".
func BeforeName(name string) string {
	if ext := filepath.Ext(name); strings.EqualFold(ext, ending) {
		name = strings.TrimSuffix(name, ext)
	}
	return name + beforeEnding
}

// KeepBefore puts what the named file holds now into its backup, whole or not at all; call it before the file is written. A file that is not
// there, or is no whole job, leaves the backup as it is, and so does one that holds what it is about to be given. The error is a plain sentence.
func KeepBefore(name string, next *Job) error {
	if real, err := filepath.EvalSymlinks(name); err == nil {
		name = real
	}
	data, err := os.ReadFile(name)
	if err != nil {
		return nil // nothing to keep
	}
	if _, err := Read(bytes.NewReader(data)); err != nil {
		return nil
	}
	if text, err := encode(next); err == nil && text == string(data) {
		return nil
	}
	backup := BeforeName(name)
	if info, err := os.Lstat(backup); err == nil && !info.Mode().IsRegular() {
		return saveError(backup, nil, "%s is no plain file, so the job before this save is not kept in it.", filepath.Base(backup))
	}
	if err := replace(backup, data); err != nil {
		return notSaved(backup, err)
	}
	return nil
}

// IsLeftOver reports whether a name, without its folder, is that of a temporary file out of which the named file was to be made: one is left
// where the program is killed while it writes.
func IsLeftOver(left, of string) bool {
	digits, ok := strings.CutPrefix(left, "."+filepath.Base(of))
	return ok && len(digits) >= 6 && strings.Trim(digits, "0123456789") == ""
}
