package tree

import (
	"errors"
	"io/fs"
	"os"
	"runtime"
	"sync"
	"sync/atomic"
)

// lying is what lies below a folder, by name from there, with slashes. Links
// are not followed, and count as files.
type lying struct {
	files   map[string]fs.FileInfo
	folders map[string]bool
}

// whatLies looks through a folder, on all processors: a site is a folder for
// each detail.
func whatLies(dir string) (lying, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return lying{}, err
	}
	var below []string
	here := branch{}
	for _, e := range entries {
		if e.IsDir() {
			here.folders = append(here.folders, e.Name())
			below = append(below, e.Name())
		} else {
			here.file("", e)
		}
	}
	branches := make([]branch, len(below))
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(below)) {
		wait.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(below); i = int(next.Add(1)) - 1 {
				branches[i].look(dir, below[i])
			}
		})
	}
	wait.Wait()
	branches = append(branches, here)
	count := 0
	for i := range branches {
		if branches[i].err != nil {
			return lying{}, branches[i].err
		}
		count += len(branches[i].names)
	}
	l := lying{make(map[string]fs.FileInfo, count), make(map[string]bool, len(branches))}
	for i := range branches {
		b := &branches[i]
		for k, name := range b.names {
			l.files[name] = b.infos[k]
		}
		for _, name := range b.folders {
			l.folders[name] = true
		}
	}
	return l, nil
}

// branch is what lies below one folder of a tree.
type branch struct {
	names   []string
	infos   []fs.FileInfo
	folders []string
	err     error
}

func (b *branch) look(root, folder string) {
	entries, err := os.ReadDir(root + "/" + folder)
	if err != nil {
		b.err = err
		return
	}
	for _, e := range entries {
		if e.IsDir() {
			name := folder + "/" + e.Name()
			b.folders = append(b.folders, name)
			b.look(root, name)
		} else {
			b.file(folder+"/", e)
		}
	}
}

func (b *branch) file(before string, e fs.DirEntry) {
	info, err := e.Info()
	if err != nil {
		if !errors.Is(err, fs.ErrNotExist) {
			b.err = err
		}
		return
	}
	b.names, b.infos = append(b.names, before+e.Name()), append(b.infos, info)
}
