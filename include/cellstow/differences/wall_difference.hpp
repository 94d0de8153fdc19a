#pragma once
/// How far two walls of one place lie apart.

#include <vector>

#include "cellstow/survey/job.hpp"

namespace cellstow::differences {

using core::Point2;

/// The place where two sections' walls lie farthest apart.
struct WallDifference {
  double mm = 0;          ///< from that place to the nearest wall of the other section
  Point2 at;              ///< on the wall of one of them, to the micrometre
  bool on_first = true;   ///< whose wall that is
  bool first_wider = true;  ///< which section has free space there that the other has not
};

/// Greatest distance from any point of one section's walls (outline and holes) to the nearest wall of the other, looked
/// for from both sides: the Hausdorff distance of the two boundaries.
///
/// A wall that has moved by d gives d wherever it is longer than 2 d.
/// Accuracy: 1 um, by halving edges until the bound (f0 + f1 + length) / 2 on an edge, from |f(p) - f(q)| <= |p - q|,
/// allows no more.
WallDifference greatest_difference(const survey::Section& first, const survey::Section& second);

/// Free area of a section: the outline's less the holes'.
double area_mm2(const survey::Section& section);

/// The section as it would be with left and right exchanged.
/// @pre `across` is x or z: the plane of the section holds y
survey::Section mirrored(const survey::Section& section, core::Axis across);

}  // namespace cellstow::differences
