package site

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"

	"wythe/renderer/memo"
	"wythe/renderer/trace"
	"wythe/site/tree"
)

// keeper says which files of a standing site can be kept. It believes the
// site's record only where a stamp in the user's cache folder says that this
// very program wrote it: another version may make other pages of the same
// reads. Without a stamp all pages are made.
type keeper struct {
	answers *answers
	to      string
	stampAt string // "" where there is no cache folder
	program string
	known   bool
}

func (l *Library) keeper(to string, p *press) *keeper {
	k := &keeper{answers: l.answers(p), to: to, program: programHash()}
	cache, err := os.UserCacheDir()
	if err != nil || k.program == "" {
		return k
	}
	full, err := filepath.Abs(to)
	if err != nil {
		return k
	}
	k.stampAt = filepath.Join(cache, "wythe", "sites", trace.Hash(full)[:32])
	stamp, err := os.ReadFile(k.stampAt)
	k.known = err == nil && string(stamp) == k.now()
	return k
}

// spare is the folder of the user's cache where the last site lies between
// publishes, its unchanged files under a second name; "" where there is no
// cache.
func (k *keeper) spare() string {
	if k.stampAt == "" {
		return ""
	}
	return k.stampAt + ".spare"
}

// keep is for [tree.Options].
func (k *keeper) keep() func([]trace.Read) bool {
	if !k.known {
		return nil
	}
	return k.answers.same
}

// now is the stamp of the record that stands, by this program.
func (k *keeper) now() string {
	record, err := os.ReadFile(filepath.Join(k.to, tree.RecordName))
	if err != nil {
		return ""
	}
	sum := sha256.Sum256(append(record, k.program...))
	return hex.EncodeToString(sum[:])
}

// stamp notes what was published. A stamp that cannot be written costs time at
// the next publish, no more.
func (k *keeper) stamp() {
	if k.stampAt == "" {
		return
	}
	if os.MkdirAll(filepath.Dir(k.stampAt), 0o777) == nil {
		_ = os.WriteFile(k.stampAt, []byte(k.now()), 0o666)
	}
}

// openStore returns the store of a library in the user's cache folder, nil
// where there is none. It holds what this very program read and worked out.
func openStore(library string) *memo.Store {
	cache, err := os.UserCacheDir()
	if err != nil {
		return nil
	}
	full, err := filepath.Abs(library)
	program := programHash()
	if err != nil || program == "" {
		return nil
	}
	return memo.Open(filepath.Join(cache, "wythe", "libraries", trace.Hash(full)[:32]), program)
}

// programHash tells this program from every other build of it, "" where that
// cannot be told.
func programHash() string {
	file, err := os.Executable()
	if err != nil {
		return ""
	}
	info, err := os.Stat(file)
	if err != nil {
		return ""
	}
	build := ""
	if b, ok := debug.ReadBuildInfo(); ok {
		build = b.String()
	}
	return trace.Hash(file, fmt.Sprint(info.Size(), info.ModTime().UnixNano()), runtime.Version(), build)
}
