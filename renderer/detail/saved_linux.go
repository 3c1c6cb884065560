package detail

import (
	"io/fs"
	"syscall"
)

// changeOf is a file's number and the time of its last change, which no
// program can set back.
func changeOf(info fs.FileInfo) [3]int64 {
	s, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return [3]int64{}
	}
	return [3]int64{int64(s.Ino), int64(s.Ctim.Sec), int64(s.Ctim.Nsec)}
}
