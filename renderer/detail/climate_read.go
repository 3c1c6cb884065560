package detail

import (
	"io/fs"

	"wythe/renderer/climate"
	"wythe/renderer/finding"
	"wythe/renderer/strict"
	"wythe/renderer/trace"
)

// readClimates reads every climate, and keeps the one that library.yaml names.
func (l *Library) readClimates(fsys fs.FS, f files, named strict.Node, list *finding.List) {
	use := ""
	if name := l.Settings.ClimateName; name != "" {
		use, _ = climateFile(named, name, f.climates)
	}
	for _, file := range f.climates {
		data, ok := readFile(fsys, file, list)
		if !ok {
			continue
		}
		c, found := climate.Read(file, data)
		list.Add(found)
		if file == use {
			l.Climate = c
			l.traces.climate = trace.Hash(string(data))
		}
	}
}
