package site

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"sync"
)

// appPicture draws the app's icon: a wall cut open, layer by layer, inside
// the part of a square that every mask leaves.
func appPicture(px int) []byte {
	return appPictures[px]()
}

var appPictures = map[int]func() []byte{
	192: sync.OnceValue(func() []byte { return drawAppPicture(192) }),
	512: sync.OnceValue(func() []byte { return drawAppPicture(512) }),
}

func drawAppPicture(px int) []byte {
	paper, ink := color.Gray{255}, color.Gray{20}
	picture := image.NewPaletted(image.Rect(0, 0, px, px), color.Palette{paper, ink})
	at := func(v float64) int { return int(v * float64(px)) }
	box := func(x0, y0, x1, y1 float64, dark func(x, y int) bool) {
		for y := at(y0); y < at(y1); y++ {
			for x := at(x0); x < at(x1); x++ {
				if dark(x, y) {
					picture.SetColorIndex(x, y, 1)
				}
			}
		}
	}
	solid := func(int, int) bool { return true }
	pitch := at(.07)
	slanting := func(x, y int) bool { return (x+y)%pitch < at(.014) }
	crossed := func(x, y int) bool { return slanting(x, y) || (x-y+px*8)%pitch < at(.014) }
	line := .016
	for _, layer := range []struct {
		from, to float64
		fill     func(x, y int) bool
	}{{.2, .32, slanting}, {.32, .35, solid}, {.35, .62, crossed}, {.62, .64, solid}, {.64, .8, slanting}} {
		box(layer.from, .2, layer.to, .8, layer.fill)
		box(layer.from, .2, layer.from+line, .8, solid)
	}
	box(.8-line, .2, .8, .8, solid)
	box(.2, .2, .8, .2+line, solid)
	box(.2, .8-line, .8, .8, solid)
	var b bytes.Buffer
	if err := png.Encode(&b, picture); err != nil {
		panic(err) // a picture in memory always has a PNG
	}
	return b.Bytes()
}
