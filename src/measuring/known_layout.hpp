#pragma once
/// How the known points of a picture lie to one another.

#include <optional>
#include <span>
#include <vector>

#include "cellstow/measuring/picture.hpp"

namespace cellstow::measuring {

/// Three known points that, in the plane or in the picture, are so nearly on one line that no mapping hangs on them:
/// the third is off the line through the farthest two by less than a fiftieth of their distance. Told only when there are
/// no four points without such a three.
std::optional<std::vector<std::size_t>> three_on_a_line(std::span<const KnownInPicture> known);

/// The convex polygon round the known places, counter-clockwise.
/// Source: Andrew's monotone chain (1979, from memory)
std::vector<DrawnPoint> polygon_round(std::span<const KnownInPicture> known);

bool lies_outside(const std::vector<DrawnPoint>& convex, const DrawnPoint& point);

}  // namespace cellstow::measuring
