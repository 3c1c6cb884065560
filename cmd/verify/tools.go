package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// script is a library of scripts that tests run in the browser.
type script struct{ name, version, file, env, usedFor string }

var scripts = []script{
	{"axe-core", "4.14.1", "axe.min.js", "WYTHE_AXE", "judging pages"},
	{"mammoth", "1.13.0", "mammoth.browser.min.js", "WYTHE_MAMMOTH", "reading documents back"},
}

// tool is a program the tests need.
type tool struct {
	names   []string // any of them will do
	debian  []string // packages that bring it
	usedFor string
}

var tools = []tool{
	{[]string{"chromium", "chromium-browser", "google-chrome"}, []string{"chromium"}, "the browser tests"},
	{[]string{"pdftoppm"}, []string{"poppler-utils"}, "measuring PDF sheets"},
	{[]string{"zbarimg"}, []string{"zbar-tools"}, "reading the codes on sheets"},
	{[]string{"npm"}, []string{"nodejs", "npm"}, "fetching axe-core and mammoth"},
}

func (t tool) find() (string, bool) {
	for _, name := range t.names {
		if path, err := exec.LookPath(name); err == nil {
			return path, true
		}
	}
	return "", false
}

// bringTools installs what is missing with the system's package manager, and
// scripts into the user's cache.
func (b *bench) bringTools() error {
	if err := b.command("go", "version").run(); err != nil {
		return fmt.Errorf("go does not run: %w", err)
	}
	var missing []tool
	for _, t := range tools {
		if _, ok := t.find(); !ok {
			missing = append(missing, t)
		}
	}
	if len(missing) > 0 {
		if err := b.install(missing); err != nil {
			return err
		}
	}
	for _, t := range tools {
		if _, ok := t.find(); !ok {
			return fmt.Errorf("%s is still missing after the install; it is needed for %s", t.names[0], t.usedFor)
		}
	}
	chromium, _ := tools[0].find()
	b.env = append(b.env, "WYTHE_CHROMIUM="+chromium)
	for _, s := range scripts {
		file, err := b.bring(s)
		if err != nil {
			return err
		}
		b.env = append(b.env, s.env+"="+file)
	}
	return nil
}

func (b *bench) install(missing []tool) error {
	var packages []string
	for _, t := range missing {
		packages = append(packages, t.debian...)
	}
	byHand := "install " + strings.Join(packages, ", ") + " (the names of Debian's packages) and run this again"
	if _, err := exec.LookPath("apt-get"); err != nil {
		return errors.New("there is no apt-get here: " + byHand)
	}
	fmt.Fprintf(b.stdout, "installing %s\n", strings.Join(packages, ", "))
	env := []string{"DEBIAN_FRONTEND=noninteractive"}
	for _, args := range [][]string{
		{"apt-get", "update", "-q"},
		append([]string{"apt-get", "install", "-q", "-y", "--no-install-recommends"}, packages...),
	} {
		c := b.command(args[0], args[1:]...)
		c.env = env
		if err := c.run(); err != nil {
			return fmt.Errorf("%s: %w; %s", strings.Join(args[:2], " "), err, byHand)
		}
	}
	return nil
}

// bring returns the path of a script, installed where needed.
func (b *bench) bring(s script) (string, error) {
	cache, err := os.UserCacheDir()
	if err != nil {
		return "", fmt.Errorf("no cache folder for %s: %w", s.name, err)
	}
	dir := filepath.Join(cache, "wythe-verify", s.name+"-"+s.version)
	file := filepath.Join(dir, "node_modules", s.name, s.file)
	if _, err := os.Stat(file); err == nil {
		return file, nil
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return "", err
	}
	fmt.Fprintf(b.stdout, "installing %s %s, for %s, into %s\n", s.name, s.version, s.usedFor, dir)
	npm, _ := tools[len(tools)-1].find()
	if err := b.command(npm, "install", "--prefix", dir, "--ignore-scripts", "--no-audit", "--no-fund", s.name+"@"+s.version).run(); err != nil {
		return "", fmt.Errorf("npm could not install %s: %w", s.name, err)
	}
	if _, err := os.Stat(file); err != nil {
		return "", fmt.Errorf("npm ended well, yet %s is not there: %w", s.name, err)
	}
	return file, nil
}
