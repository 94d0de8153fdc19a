#pragma once
/// The box's outline around its contents. Internal to packing.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/region/free_plan.hpp"
#include "contents.hpp"

namespace cellstow::packing {

using geometry::PointUm;

enum class OutlineFault { none, apart, ring, blocked };

struct OutlineAnswer {
  std::vector<PointUm> outline;      ///< counter-clockwise, (x, y); empty when there is a fault
  OutlineFault fault = OutlineFault::none;
  PointUm fault_at;                  ///< for a ring: a point of what it encloses
};

/// A right-angled outline inside the free plan around all contents widened by the shell.
///
/// Starts from the widened contents, joins them through free space, fills what may be filled, then fills
/// notches as long as that saves corners.
OutlineAnswer right_angled_outline(const region::FreePlan& plan, const std::vector<RectUm>& contents,
                                   Um shell_x, Um shell_y);

/// Convex outline of at most `most_corners` around the widened contents, if it is clear of every wall.
std::optional<std::vector<PointUm>> convex_outline(const region::FreePlan& plan,
                                                   const std::vector<RectUm>& contents, Um shell,
                                                   std::size_t most_corners);

/// Is the square of side `relief` in every convex right-angled corner, measured from the inside of the metal, free of contents?
bool relief_kept(const std::vector<PointUm>& outline, const std::vector<RectUm>& contents, Um wall,
                 Um relief);

}  // namespace cellstow::packing
