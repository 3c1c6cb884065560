package site

import (
	"bytes"
	"html/template"
	"strconv"

	"wythe/renderer/drawing/svg"
)

// Report returns the comparison as one page that stands alone: it needs no
// other file, no script and no network.
func (c *Comparison) Report() ([]byte, error) {
	type detailView struct {
		DetailChange
		List    []keyed
		Drawing template.HTML
	}
	view := struct {
		*Comparison
		CSS  template.CSS
		List []detailView
	}{Comparison: c, CSS: template.CSS(svg.CSS)}
	for i, d := range c.Details {
		v := detailView{DetailChange: d, List: keysOf(d.Changes)}
		if d.Lines != nil && d.Lines.Changed() {
			if picture := changesDrawing(d.Mark, d.Lines, v.List, c.units, changesWide); picture != nil {
				v.Drawing = inline(picture, svg.Options{Prefix: "c" + strconv.Itoa(i+1)})
			}
		}
		view.List = append(view.List, v)
	}
	var b bytes.Buffer
	err := reportPage.Execute(&b, view)
	return b.Bytes(), err
}

var reportPage = template.Must(template.New("report").Parse(`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>What changed · {{.Title}} · {{.Firm}}</title>
<style>
:root{--ink:#14191c;--ink2:#4a545a;--hatch:#14191c;--rule:#c5ccce;--mark:#ad1d2b;--paper:#fff;--pen:1}
body{margin:0 auto;max-width:62rem;padding:1.5rem;color:var(--ink);background:var(--paper);font:16px/1.45 "Sofia Sans","Source Sans 3",Arial,sans-serif;font-variant-numeric:tabular-nums}
h1{font-size:28px;margin:0}h2{font-size:18px;border-top:2px solid var(--ink);padding-top:.5rem;margin:2rem 0 .5rem}
h2 .k{float:right;font-weight:400}
table{border-collapse:collapse;width:100%;font-size:15px}th,td{text-align:left;vertical-align:top;padding:.3rem .6rem .3rem 0;border-bottom:1px solid var(--rule)}
th{font-weight:600}th[scope=row]{width:32%}td{width:34%;overflow-wrap:anywhere}.s{font-weight:400;color:var(--ink2)}
.n{display:inline-block;min-width:1.3em;border:1px solid;border-radius:1em;text-align:center;font-weight:600;line-height:1.3}.w{border-left:4px solid var(--mark);padding-left:.7rem}
svg{max-width:100%;height:auto;margin-top:.8rem}
@media print{h2{break-after:avoid}tr,svg{break-inside:avoid}}
{{.CSS}}
</style>
</head>
<body>
<header>
<h1>What changed</h1>
<p>{{.Title}}, {{.Firm}}. From {{.From}} to {{.To}}.</p>
{{range .Says}}<p class="w">{{.}}</p>
{{end}}</header>
<main>
{{range .List}}<section>
<h2>{{.Mark}} {{.Title}} <span class="k">{{.Kind}}</span></h2>
{{.Drawing}}{{if .List}}<table>
<thead><tr><th scope="col">What</th><th scope="col">Before</th><th scope="col">After</th></tr></thead>
<tbody>
{{$drawn := .Drawing}}{{range .List}}<tr><th scope="row">{{if and .Key $drawn}}<b class="n">{{.Key}}</b> {{end}}{{.Title}} <span class="s">{{if ne .Title .What}}{{.What}}{{end}}</span></th><td>{{if .Before}}{{.Before}}{{else}}–{{end}}</td><td>{{if .After}}{{.After}}{{else}}–{{end}}</td></tr>
{{end}}</tbody>
</table>
{{end}}</section>
{{else}}<p>No detail changed.</p>
{{end}}{{if .Files}}<section><h2>Other files that changed</h2><ul>{{range .Files}}<li>{{.}}</li>{{end}}</ul></section>
{{end}}</main>
</body>
</html>
`))
