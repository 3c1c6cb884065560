package main

import (
	"bytes"
	"runtime"
	"runtime/debug"
	"strings"
	"testing"
)

func TestVersion(t *testing.T) {
	here := runtime.GOOS + "/" + runtime.GOARCH
	for _, c := range []struct {
		name string
		of   debug.BuildInfo
		want string
	}{
		{"a release", debug.BuildInfo{GoVersion: "go1.26.8", Main: debug.Module{Version: "v1.2.0"}}, "v1.2.0 (go1.26.8, " + here + ")"},
		{"a clone", debug.BuildInfo{GoVersion: "go1.26.8", Main: debug.Module{Version: "(devel)"}, Settings: []debug.BuildSetting{
			{Key: "vcs.revision", Value: "0123456789abcdef0123"}, {Key: "vcs.time", Value: "2026-11-02T08:00:00Z"}, {Key: "vcs.modified", Value: "true"},
		}}, "revision 0123456789ab (2026-11-02, with changes not committed, go1.26.8, " + here + ")"},
		{"no history", debug.BuildInfo{GoVersion: "go1.26.8"}, "development (go1.26.8, " + here + ")"},
	} {
		if got := versionOf(&c.of); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	var out, errs bytes.Buffer
	if code := run([]string{"--version"}, &out, &errs); code != 0 || !strings.HasPrefix(out.String(), "wythe ") || !strings.Contains(out.String(), runtime.Version()) || strings.Count(out.String(), "\n") != 1 {
		t.Errorf("exit %d: %q %q", code, out.String(), errs.String())
	}
}
