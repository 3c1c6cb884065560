package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// axeVersion is the release of axe-core that judges the pages.
const axeVersion = "4.14.1"

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
	{[]string{"npm"}, []string{"nodejs", "npm"}, "fetching axe-core"},
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
// axe-core into the user's cache.
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
	axe, err := b.bringAxe()
	if err != nil {
		return err
	}
	b.env = append(b.env, "WYTHE_CHROMIUM="+chromium, "WYTHE_AXE="+axe)
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

// bringAxe returns the path of axe-core's script, installed where needed.
func (b *bench) bringAxe() (string, error) {
	cache, err := os.UserCacheDir()
	if err != nil {
		return "", fmt.Errorf("no cache folder for axe-core: %w", err)
	}
	dir := filepath.Join(cache, "wythe-verify", "axe-core-"+axeVersion)
	script := filepath.Join(dir, "node_modules", "axe-core", "axe.min.js")
	if _, err := os.Stat(script); err == nil {
		return script, nil
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return "", err
	}
	fmt.Fprintf(b.stdout, "installing axe-core %s into %s\n", axeVersion, dir)
	npm, _ := tools[2].find()
	if err := b.command(npm, "install", "--prefix", dir, "--ignore-scripts", "--no-audit", "--no-fund", "axe-core@"+axeVersion).run(); err != nil {
		return "", fmt.Errorf("npm could not install axe-core: %w", err)
	}
	if _, err := os.Stat(script); err != nil {
		return "", fmt.Errorf("npm ended well, yet axe-core is not there: %w", err)
	}
	return script, nil
}
