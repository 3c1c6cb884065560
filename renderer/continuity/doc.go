// Package continuity proves, or disproves with a place and a width, that the
// control layers of a section run unbroken.
//
// The theorem. Take the view. Remove the parts that carry a control, the
// joined contacts between them and the declared ends. The control is
// continuous if and only if no path is left from an inside to an outside.
//
// [Check] does so on the section's own arrangement, for each control that any
// part carries. A path runs through faces that do not carry the control;
// along the slits where two carriers touch and nothing joins them (for air,
// vapor and water); and through a vertex, from one opening to another, unless
// carriers that hang together stand on both sides of it there. A film blocks
// the edges it runs along. Nothing here is a matter of tolerance: the
// arrangement's lines are the section's, to the micrometre.
//
//  1. Broken: a path is left even if every touch were sealed.
//  2. Unsealed: a path is left through slits alone.
//  3. Thin (thermal): no path is left, and heat crosses less insulation than
//     asked somewhere: the shortest way from inside to outside through
//     carriers, all else counting nothing.
//  4. Continuous: none of these, and a chain of carriers is named.
//
// What joins a touch: the same layer of the same assembly laid twice; a part
// that says it continues the other; a seal within its reach of the place; for
// water, outside a plan, a lap whose upper sheet lies on the wet side, 4 in
// long or as a part says. The wet side is the one fewer carriers away from an
// outside. For thermal any touch joins.
//
// Gaps. Nodes are the connected pieces in which carriers show, and the cut;
// bonds are touches and the least distances between pieces. The cheapest run
// of bonds that crosses the path found an odd number of times is a chain that
// would part inside from outside: its gaps are reported, drawn in, and the
// search begins again, until no path is left. What is reported therefore
// closes the control.
//
// Declared ends. A control that is declared to stop is proved by a whole
// chain from the cut to each end, and by no way left through air alone.
//
// Soil that reaches a cut is outside. What stands behind the cut is not
// traced. A verdict says "unbroken in this section": corners where three
// planes meet are not proved by it.
package continuity
