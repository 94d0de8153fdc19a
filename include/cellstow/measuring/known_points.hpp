#pragma once
/// A drawing brought to its place in a section's plane by points known in both.

#include <span>
#include <vector>

#include "cellstow/measuring/drawn_outline.hpp"

namespace cellstow::measuring {

/// One point as it stands in the drawing, mm, and where it is in the section's plane.
struct KnownPair {
  DrawnPoint drawn, at;
};

/// A turn about the origin followed by a shift; lengths are kept.
struct DrawingPlacing {
  double cosine = 1, sine = 0, shift_a_mm = 0, shift_b_mm = 0;
};

DrawnPoint placed(const DrawingPlacing& placing, const DrawnPoint& drawn);

/// The turn and shift that bring the drawn points nearest to where they are, in the sum of squares:
///
///   tan turn = sum (drawn x at) / sum (drawn . at), both from their middles; then middle onto middle
///
/// @pre   at least 2 pairs whose drawn points are apart
/// Source: the plane case of Arun, Huang and Blostein, "Least-squares fitting of two 3-D point sets", IEEE PAMI 9 (1987)
DrawingPlacing place_drawing(std::span<const KnownPair> pairs);

/// How far each pair is off once placed, mm.
std::vector<double> off_by_mm(const DrawingPlacing& placing, std::span<const KnownPair> pairs);

}  // namespace cellstow::measuring
