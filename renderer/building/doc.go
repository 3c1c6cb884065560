// Package building adds a building's details up: a heat budget of its
// envelope, what one more inch saves, which elements meet without a junction,
// and a takeoff of materials.
//
// Methods: transmission by U × A and Ψ × l with outside measures (ISO 13789);
// elements on the ground by ISO 13370; air leakage by volume × natural air
// change; degree-days. What a building does not say, or a detail cannot
// compute, is listed and left out, never filled in.
//
// This package knows no file, drawing or page.
package building
