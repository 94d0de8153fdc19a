#pragma once
/// The best of all angles at which a box may be turned about the vertical. Internal to packing.

#include "cavity_search.hpp"

namespace cellstow::packing {

/// What turning gains.
struct HeadingAnswer {
  core::Heading heading{};
  std::optional<Found> found;   ///< none when no heading is worth more than what was known
  int bound = 0;                ///< no box at any heading holds more
  long long steps = 0;
  bool settled = true;          ///< false: some headings were left untried when the work allowed was used up
};

/// Searches all headings for more fittings or more cells than the square search found.
///
/// Rotate a legal arrangement by an angle of at most d about a pivot. Every point of it moves by at most
///
///   e = 2 R sin(d / 2),   R the distance of the farthest free point from the pivot.
///
/// So it stays e from being legal at most: with every reach taken back by e1 and every widened content
/// shrunk by e - e1 on all sides it is legal at the middle of the range. The bound of that problem bounds all headings within d of the middle. Ranges whose
/// bound does not beat the best found are dropped, the others are halved, down to 0.0055 degrees; what is left then stays in the bound.
///
/// @param square        the problem at heading 0
/// @param known         its search, run
/// @param square_bound  what its answer is bounded by
HeadingAnswer best_heading(const Setup& square, const CavitySearch& known, int square_bound, const PackOptions& options);

/// Headings along the walls of the cavity, longest walls first, each in (-45, 45] degrees.
std::vector<core::Heading> wall_headings(const survey::Cavity& cavity);

/// A point of the plan and how far the cavity's outlines reach from it, um.
struct Pivot { double x_um = 0, y_um = 0, reach_um = 0; };
Pivot pivot_of(const survey::Sections& sections);

/// Farthest that any point within `radius_um` of the pivot moves when turned by up to `half` about it, rounded up.
Um farthest_move(double radius_um, core::Heading half);

}  // namespace cellstow::packing
