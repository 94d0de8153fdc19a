#pragma once
/// The part as it stands in the box: flat plates and bends between them.
///
/// Frame of the box: u, v as core/frame.hpp, z up from the ground; mm.

#include <array>
#include <vector>

#include "cellstow/fabrication/flat.hpp"

namespace cellstow::fabrication {

/// A point or a direction: u, v, z.
using Space = std::array<double, 3>;

/// A plane with axes of its own. Right-handed: normal = a_axis x b_axis, all of length 1.
struct Placement {
  Space origin{}, a_axis{1, 0, 0}, b_axis{0, 1, 0}, normal{0, 0, 1};
};

Space in_space(const Placement& at, FlatPoint point, double along_normal = 0);

/// A flat plate: everything inside `outline` and outside `holes`, from 0 down to -thickness along the normal.
/// The drawn face is at 0. Outline and holes in the placement's own a, b.
struct PlateSolid {
  Placement at;
  Path outline;
  std::vector<FlatHole> holes;
  double thickness = 0;
};

/// A bent strip: a sector of a tube about an axis.
///
///   axis_point + s along + r (cos(t) start + sin(t) (along x start)),
///   0 <= s <= length, 0 <= t <= angle, inside_radius <= r <= inside_radius + thickness
struct BendSolid {
  Space axis_point{};
  Space along{1, 0, 0};  ///< unit
  Space start{0, 0, -1}; ///< unit, from the axis to where the bend begins
  double length = 0, angle_deg = 90, inside_radius = 0, thickness = 0;
};

/// Plates and bends touch along whole faces and share no room.
struct FoldedSolid {
  std::vector<PlateSolid> plates;
  std::vector<BendSolid> bends;
};

/// Metal of all plates and bends, mm3.
double volume_mm3(const FoldedSolid& solid);

}  // namespace cellstow::fabrication
