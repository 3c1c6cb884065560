package tree

import "os"

// Files is every change that a publish asks of the file system. Reading is
// done beside it: a failed read changes nothing.
type Files interface {
	MkdirAll(dir string) error
	Mkdir(dir string) error
	// WriteFile makes a new file; one that exists is an error.
	WriteFile(name string, data []byte) error
	// Settle makes what was changed below dir last through a power cut: files
	// that were written or named, and folders that files were taken out of.
	Settle(dir string, changed []string) error
	Rename(from, to string) error
	// Exchange lets two folders change places in one step. It returns
	// [ErrNoExchange] where the system has no such step.
	Exchange(a, b string) error
	// Remove removes name, a file or an empty folder below dir, and never
	// follows a link out of dir.
	Remove(dir *os.Root, name string) error
	// RemoveDir removes an empty folder.
	RemoveDir(dir string) error
}

// System is the operating system's files.
type System struct{}

// MkdirAll makes a folder and those above it.
func (System) MkdirAll(dir string) error { return os.MkdirAll(dir, 0o777) }

// Mkdir makes a folder.
func (System) Mkdir(dir string) error { return os.Mkdir(dir, 0o777) }

// WriteFile makes a new file.
func (System) WriteFile(name string, data []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if closed := f.Close(); err == nil {
		err = closed
	}
	return err
}

// Rename moves a file or folder.
func (System) Rename(from, to string) error { return os.Rename(from, to) }

// Remove removes a file or an empty folder below dir.
func (System) Remove(dir *os.Root, name string) error { return dir.Remove(name) }

// RemoveDir removes an empty folder.
func (System) RemoveDir(dir string) error { return os.Remove(dir) }
