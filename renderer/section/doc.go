// Package section resolves a junction into exact regions: edges said in words
// to numbers, parts laid in painter's order, one arrangement of all edges.
//
// [Resolve] returns a [Section] and findings. A part that cannot be laid is
// left out and its finding says why; the rest still resolves.
//
// Three callers. Drawing: Faces (hatch each), Outlines (each line once, with
// the faces on both sides), Runs (films), Rounds, Beyond, Levels, Breaks,
// Dimensions, Parts. Heat flow: Faces with Material, or Space for air; Runs
// with Film.Thickness. Continuity: Arrangement, Owner, FilmsOn, Seals, Spaces,
// Ends, [Section.Name].
//
// Numbers. Words resolve in whole nanometres, in which 1/64 in and 0.1 mil are
// exact, so that two ways to one place give one place. Each coordinate is
// then rounded once to the micrometre. A slanting side is a line in floats and
// its corners are rounded: parts that meet along it may leave a sliver under
// [sliverWidth], which joins the neighbour it touches longest.
//
// How words are read.
//
//   - An edge's `cut` is the view's side there.
//   - A part's `left` and `right`, where it is pitched, are its farthest
//     reach: the corner that sticks out, whatever the end cut. A square end
//     stands square to the slope, a level end is level, a plumb end plumb.
//   - A pitched rectangle's `height` is measured square to its slope, its
//     `width` level. A positive pitch rises to the right. Given `bottom` or
//     `top`, it ends where its lowest or highest corner is at that height.
//   - `under NAME` and `over NAME` keep the part on that side of the face's
//     whole line, slanting or not.
//   - A trim ends a layer along its run, never across its thickness.
//   - A framed layer shows what stands between its members.
//   - A repeat steps to the right; on a slope, along it.
//   - A film over faces runs from where the first is entered to where the last
//     is left. The first face runs from its far end, or, where it runs on to
//     both sides of the place it is left, from the end the next face looks to;
//     with a direction it starts LENGTH away. The last likewise. A film named first or last is joined where its
//     line meets the next face. Later films lie over earlier ones on one
//     face; films of an assembly's layers lie over films laid on the layer
//     below them; a film over a film lies on the named side of it.
//   - A later part hides what it covers of an earlier film: where the film
//     runs inside it. Along its outline the film still shows.
//   - A seal holds within its reach: 1 in for sealant, gasket, weld, clamp and
//     coating, 2 in for tape, 4 in for a boot. Where what it joins stands apart
//     within that reach it bridges the gap.
//
// Laws. Each is a test.
//
//  1. The areas of Faces sum to the view's, exactly.
//  2. A point inside a face lies in the last region laid there.
//  3. Every outline has two different faces on its sides; Faces' boundaries
//     are the outlines and nothing else.
//  4. Time grows with the number of parts (benchmark 15, 60, 240).
package section
