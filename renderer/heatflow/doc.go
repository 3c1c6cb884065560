// Package heatflow solves steady heat conduction in a plane section, ISO 10211.
//
// A [Problem] is regions with exact shared edges, surfaces that face spaces,
// and films; a [Layout] makes one from polygons in painter's order. [Solve]
// returns a [Field]: heat flows, couplings, temperatures, the coldest places,
// isotherms and lines of flow. [Cache] keeps fields by content.
//
// Method. A constrained Delaunay mesh on a grid of 1/1024 µm, its tests exact,
// carries quadratic elements. Each mesh is solved twice: for temperature, whose
// energy is never below the true one, and for the stream function, whose energy
// is never above it. The true couplings lie between, and where the two flows
// differ the mesh is refined, most of all at corners and where materials meet,
// by how fast temperature may change there. Equations are factored front by
// front as L·D·Lᵀ; each further set of temperatures costs next to nothing.
//
// Bounds. The couplings by temperature and by stream function bound the true
// ones as matrices; what is printed is their middle, with half their distance.
// The estimate for temperatures is no bound: it held on sections solved far finer.
//
// Limits. Steady, without sources, moisture or radiation but in surface
// resistances and the equivalent conductivity of cavities ([Cavity]). Faces held
// at different temperatures that meet in a point have no finite heat flow:
// [Field.Unbounded].
//
// Laws. Each is a test.
//
//  1. The lower bound is never above the upper one, at any mesh.
//  2. Couplings are symmetric and heat is conserved at every mesh, to rounding.
//  3. The misfit of the two flows, summed over the mesh, is the gap between the bounds.
//  4. A stack of layers is exact on any mesh, at any slope.
//  5. The gap falls with the square of the unknowns, or faster.
//  6. A film counts as the same film meshed.
package heatflow
