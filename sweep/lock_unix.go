//go:build unix && !aix && !solaris

package sweep

import (
	"errors"
	"os"
	"syscall"
)

// lock keeps other processes from locking the file until this one closes it or
// ends, in whatever way. The error says that another holds it. A folder on a
// system without locks is used as lock_other.go tells.
func lock(f *os.File) error {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return err
	}
	return nil
}
