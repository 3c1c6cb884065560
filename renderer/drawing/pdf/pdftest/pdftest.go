// Package pdftest looks at PDF files for tests, with the tools of Poppler and
// ZBar: what is printed, not what was meant. A tool that is missing fails the
// test.
package pdftest

import (
	"bytes"
	"fmt"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// MM is the dots of a millimetre on a page rastered at [DPI].
const (
	MM  = 20.0
	DPI = 508
)

// Run runs a tool and returns what it prints.
func Run(t testing.TB, name string, args ...string) string {
	t.Helper()
	tool, err := exec.LookPath(name)
	if err != nil {
		t.Fatalf("%s is missing; run: go run ./cmd/verify, which installs it", name)
	}
	var stdout, stderr bytes.Buffer
	cmd := exec.Command(tool, args...)
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s %v: %v\n%s", name, args, err, stderr.String())
	}
	return stdout.String()
}

// Save writes a document to a file of the test's own.
func Save(t testing.TB, data []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "set.pdf")
	if err := os.WriteFile(file, data, 0o666); err != nil {
		t.Fatal(err)
	}
	return file
}

// Raster returns a page, from 1, in grey at a number of dots per inch.
func Raster(t testing.TB, file string, page, dpi int) *image.Gray {
	t.Helper()
	n := strconv.Itoa(page)
	img, err := parse([]byte(Run(t, "pdftoppm", "-gray", "-r", strconv.Itoa(dpi), "-f", n, "-l", n, file)))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// parse reads a binary PGM of 255 greys.
func parse(data []byte) (*image.Gray, error) {
	fields := bytes.SplitN(data, []byte("\n"), 4)
	var w, h int
	if len(fields) < 4 || string(fields[0]) != "P5" || string(fields[2]) != "255" {
		return nil, fmt.Errorf("no PGM: %.20q", data)
	}
	if _, err := fmt.Sscanf(string(fields[1]), "%d %d", &w, &h); err != nil || len(fields[3]) < w*h {
		return nil, fmt.Errorf("PGM of %q holds %d bytes", fields[1], len(fields[3]))
	}
	return &image.Gray{Pix: fields[3], Stride: w, Rect: image.Rect(0, 0, w, h)}, nil
}

// Text returns the text of a page, from 1; 0: of all.
func Text(t testing.TB, file string, page int) string {
	t.Helper()
	args := []string{"-layout", file, "-"}
	if page > 0 {
		n := strconv.Itoa(page)
		args = append([]string{"-f", n, "-l", n}, args...)
	}
	return Run(t, "pdftotext", args...)
}

// Fonts returns the number of fonts in a file, and the names of those that
// are not embedded.
func Fonts(t testing.TB, file string) (n int, bare []string) {
	t.Helper()
	lines := strings.Split(strings.TrimSpace(Run(t, "pdffonts", file)), "\n")
	for _, l := range lines[2:] {
		n++
		f := strings.Fields(l)
		if len(f) < 6 || f[len(f)-5] != "yes" {
			bare = append(bare, f[0])
		}
	}
	return n, bare
}

// Code returns what the one code on a page says.
func Code(t testing.TB, file string, page, dpi int) string {
	t.Helper()
	n := strconv.Itoa(page)
	base := filepath.Join(t.TempDir(), "page")
	Run(t, "pdftoppm", "-gray", "-png", "-singlefile", "-r", strconv.Itoa(dpi), "-f", n, "-l", n, file, base)
	return strings.TrimSpace(Run(t, "zbarimg", "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", base+".png"))
}
