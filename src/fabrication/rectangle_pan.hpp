#pragma once
/// A rectangle with its four edges folded the same way: a pan, or a lid with its edges turned down. Internal to fabrication.

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "folding.hpp"

namespace cellstow::fabrication {

/// Sides in the order of the rectangle's edges from its corner (0, 0): along a, along b, back, down.
struct RectanglePan {
  double width = 0, depth = 0;  ///< outside, along a and along b
  double leg = 0;               ///< outside height of the folded edges
  bool up = true;
  std::vector<FlatHole> holes;  ///< in the middle face, whose corner lies R + T in from the outside both ways
  std::vector<std::string> names;
  /// Holes of a folded edge: turns (along the side from its corner, above the bend's tangent) into the edge's axes.
  using At = std::function<FlatPoint(double along, double above)>;
  std::function<std::vector<FlatHole>(std::size_t side, const At& at)> edge_holes;
  /// What is folded onto the edge's own edge: its length, and how far its ends stay from the outside corners.
  std::function<std::optional<Face>(std::size_t side, double length, double set_back)> crown;
};

/// The middle face with all that hangs on it. At each corner the edges of the longer pair run through and the others end
/// at their inner faces; the sheet between the bends is cut out round.
Face pan_face(const RectanglePan& pan, const BendRule& bend);

}  // namespace cellstow::fabrication
