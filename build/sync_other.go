//go:build !windows

package build

import "os"

// syncNames forces a folder's names to disk.
func syncNames(dir *os.File) error { return dir.Sync() }
