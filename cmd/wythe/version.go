package main

import (
	"runtime"
	"runtime/debug"
	"strings"
)

// version is what the build says of this program: the module's version, or
// the revision that it was built from.
func version() string {
	build, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown, built without module support"
	}
	return versionOf(build)
}

func versionOf(build *debug.BuildInfo) string {
	says := map[string]string{}
	for _, s := range build.Settings {
		says[s.Key] = s.Value
	}
	v := build.Main.Version
	if v == "" || v == "(devel)" {
		v = "development"
		if r := says["vcs.revision"]; r != "" {
			v = "revision " + r[:min(12, len(r))]
		}
	}
	var of []string
	if day, _, ok := strings.Cut(says["vcs.time"], "T"); ok {
		of = append(of, day)
	}
	if says["vcs.modified"] == "true" {
		of = append(of, "with changes not committed")
	}
	of = append(of, build.GoVersion, runtime.GOOS+"/"+runtime.GOARCH)
	return v + " (" + strings.Join(of, ", ") + ")"
}
