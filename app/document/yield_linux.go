package document

import "syscall"

// polite is how much less than others a thread takes of a processor that is wanted by both: ten steps are about a tenth.
const polite = 10

// yield lets the calling thread (its goroutine is locked to it) stand back where painting wants the same processor.
func yield() {
	_ = syscall.Setpriority(syscall.PRIO_PROCESS, syscall.Gettid(), polite)
}
