//go:build !linux

package document

// yield does nothing where the system gives a thread no priority of its own.
func yield() {}
