// Package svg writes drawings as SVG, through svgo.
//
// True size: width and height are in mm and one user unit of the viewBox is
// one mm on paper. Lengths of what is built are rounded to 0.001 mm, hatches
// to 0.01.
//
// # Inline dress
//
// For pages: no colour, no style attribute, no prolog; [CSS] (drawing.css)
// gives the looks, from these variables of the page:
//
//	--ink     what is built, letters         --hatch  hatches
//	--ink2    second ink                     --rule   hairlines
//	--mark    red: look here                 --paper  ground, casings
//	--pen     factor of every line weight: 1, in sun 1.3
//	--cold    the coldest shade of temperature  --warm  the warmest
//	--shading how shades lie over what is drawn: multiply, at night screen
//
// Style rules of what is drawn must name no ancestor: they would not reach
// into a use, by which hatches repeat. Variables do.
//
// The fonts are named in the sheet itself, since text is measured in them.
//
// Classes:
//
//	dwg                                the svg element
//	s-ink s-hatch s-ink2 s-rule s-mark s-paper   stroke in that ink
//	f-ink f-hatch f-ink2 f-rule f-mark f-paper   fill in that ink
//	f-h0 … f-h12                       fill in a shade of temperature, from cold to warm
//	p90 p70 p50 p35 p30 p27 p25 p19 p18 p14 p10  pen, hundredths of a mm
//	rd                                 round ends
//	l4 l5 l6 l7 / r4 r5 r6 r7          lettering / reading face at weight 400 … 700
//	cased                              text with a casing of paper under it
//	k-KIND                             the tag's kind: k-hatch, k-outline, …
//
// Attributes of tags: data-part, data-key, data-step, data-control; id and
// generated ids start with [Options.Prefix] and a hyphen. A part is not said
// again inside a group of that part.
//
// The title and description are named by aria-labelledby. A drawing without
// links is an image to readers; one with links is a group, since an image's
// parts are out of reach.
//
// # Standalone dress
//
// A file of its own: prolog, colours of paper, and the font list, since a
// file shown as an image can load no font; each line of text is held to its
// measured length.
package svg
