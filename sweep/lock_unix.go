//go:build unix && !aix && !solaris

package sweep

import (
	"os"
	"syscall"
)

// lock keeps other processes from locking the file until this one closes it or
// ends, in whatever way. The error says that another holds it.
func lock(f *os.File) error {
	return syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
}
