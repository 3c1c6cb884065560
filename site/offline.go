package site

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"strconv"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/trace"
	"wythe/site/tree"
)

// The files that keep a site on a device. Their names stay: the worker is
// asked for by its name, and so is the news.
const (
	workerFile = "sw.js"
	listFile   = "offline.txt"  // every file with its hash and size: a generation
	newsFile   = "offline.json" // what is current, and which sets can be kept
	appFile    = "app.webmanifest"
)

// kit is what can be kept in one tap: the library, or a building's set.
type kit struct {
	ID      string   `json:"id"` // "all", or the folder of the building's page
	Title   string   `json:"title"`
	Folders []string `json:"folders,omitempty"`
	Bytes   int64    `json:"bytes"`
	Files   int      `json:"files"`
}

// offlineOutputs are the files that follow from all the others. The hash of
// the list names a generation: a worker serves the files of one alone.
func (l *Library) offlineOutputs() []tree.Last {
	return []tree.Last{
		{Path: listFile, Make: generationList},
		{Path: newsFile, Make: l.news},
		{Path: workerFile, Make: func(files []tree.File) []byte {
			return append([]byte("const generation = \""+generation(files)+"\";\n"), l.theme.Worker()...)
		}},
	}
}

// generationList prints a line for each file: path, the first of its hash,
// size.
func generationList(files []tree.File) []byte {
	b := make([]byte, 0, 48*len(files))
	for _, f := range files {
		b = append(append(b, f.Path...), '\t')
		b = append(append(b, f.Hash[:16]...), '\t')
		b = append(strconv.AppendInt(b, f.Size, 10), '\n')
	}
	return b
}

// generation names a published state of the whole site.
func generation(files []tree.File) string {
	sum := sha256.Sum256(generationList(files))
	return hex.EncodeToString(sum[:8])
}

// news says what a kept page asks for: the generation, the sets with their
// sizes, and which details are superseded.
func (l *Library) news(files []tree.File) []byte {
	news := struct {
		Generation string            `json:"generation"`
		Kits       []kit             `json:"kits"`
		Superseded map[string]string `json:"superseded"`
	}{generation(files), []kit{{ID: "all", Title: l.lib.Settings.Title}}, map[string]string{}}
	for _, e := range l.details {
		if e.d.Status == detail.Superseded {
			news.Superseded[e.d.Mark] = e.d.SupersededBy
		}
	}
	for _, e := range l.builds {
		news.Kits = append(news.Kits, kit{ID: strings.TrimSuffix(e.href, "index.html"), Title: e.name, Folders: l.buildingFolders(e)})
	}
	sizes := map[string][2]int64{} // of the files in a folder: how many, bytes
	for _, f := range files {
		folder := f.Path[:strings.LastIndexByte(f.Path, '/')+1]
		if strings.HasPrefix(folder, "assets/") || folder == "" {
			folder = "" // with every set
		}
		s := sizes[folder]
		sizes[folder] = [2]int64{s[0] + 1, s[1] + f.Size}
		all := &news.Kits[0]
		all.Files++
		all.Bytes += f.Size
	}
	for i := 1; i < len(news.Kits); i++ {
		for _, folder := range append([]string{""}, news.Kits[i].Folders...) {
			news.Kits[i].Files += int(sizes[folder][0])
			news.Kits[i].Bytes += sizes[folder][1]
		}
	}
	data, err := json.Marshal(news)
	if err != nil {
		panic(err) // words and numbers always have a JSON form
	}
	return append(data, '\n')
}

// buildingFolders are those of a building's page and of the details it is
// built of: stated, named in its text, or laid in one of its junctions.
func (l *Library) buildingFolders(e *entry) []string {
	folders := []string{strings.TrimSuffix(e.href, "index.html")}
	seen := map[string]bool{}
	var add func(mark string)
	add = func(mark string) {
		to := l.byMark[mark]
		if to == nil || seen[mark] {
			return
		}
		seen[mark] = true
		folders = append(folders, strings.TrimSuffix(to.href, "index.html"))
		if j := to.d.Junction; j != nil {
			for _, p := range j.Parts {
				if p.Kind == detail.Laid {
					add(p.Mark)
				}
			}
		}
	}
	for _, a := range e.d.Building.Areas {
		add(a.Mark)
	}
	for _, n := range e.d.Building.Lengths {
		add(n.Mark)
	}
	for _, c := range e.d.Cites {
		add(c.Mark)
	}
	return folders
}

// appOutputs let a phone install the site: the app's card and its icons.
func (l *Library) appOutputs() []tree.Output {
	card := struct {
		Name       string    `json:"name"`
		ShortName  string    `json:"short_name"`
		StartURL   string    `json:"start_url"`
		Scope      string    `json:"scope"`
		Display    string    `json:"display"`
		Background string    `json:"background_color"`
		Theme      string    `json:"theme_color"`
		Icons      []appIcon `json:"icons"`
	}{
		Name: strings.TrimSpace(l.lib.Settings.Firm + " " + l.lib.Settings.Title), ShortName: l.lib.Settings.Title,
		StartURL: "index.html", Scope: "./", Display: "standalone", Background: "#ffffff", Theme: "#ffffff",
	}
	outs := make([]tree.Output, 0, 3)
	add := func(path string, data []byte) {
		outs = append(outs, tree.Output{Path: path, Make: func(reads *trace.Reads) ([]byte, error) {
			reads.Record("app", trace.Hash(l.lib.Settings.Firm, l.lib.Settings.Title))
			return data, nil
		}})
	}
	for _, px := range []int{192, 512} {
		size := strconv.Itoa(px)
		path := "app-" + size + ".png"
		add(path, appPicture(px))
		card.Icons = append(card.Icons, appIcon{path, size + "x" + size, "image/png", "any maskable"})
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetIndent("", " ")
	if err := e.Encode(card); err != nil {
		panic(err) // words always have a JSON form
	}
	add(appFile, b.Bytes())
	return outs
}

type appIcon struct {
	Src     string `json:"src"`
	Sizes   string `json:"sizes"`
	Type    string `json:"type"`
	Purpose string `json:"purpose"`
}
