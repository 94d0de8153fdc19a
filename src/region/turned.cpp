#include <algorithm>

#include "cellstow/region/free_plan.hpp"

namespace cellstow::region {
namespace {

using geometry::Loop;
using geometry::Side;

/// A turned corner is rounded to the grid and so moves by at most half the grid's diagonal, 0.7072 um; the binary noise
/// of the turning itself stays below 1e-7 um. No boundary point moves farther than its two corners. A point
/// that is nearer than r to the old material is nearer than r + 0.7072 to the new: either it is near the old boundary,
/// whose nearest point moved no farther than that, or it lies inside; then the new boundary keeps it inside or passed over it on its way,
/// and so lies within 0.7072 of it.
///
/// The corners of an outline found here are rounded once more on their way back into the car. Both together are less than 1.415 um.
constexpr Um tight_um = 2;

/// More than any reach: material beyond need not be kept.
constexpr Um beyond_reach_um = 3'000'000;

struct Frame { SpanUm x, y; };

bool is_empty(const Frame& frame) { return frame.x.low > frame.x.high || frame.y.low > frame.y.high; }

/// Loops that reach to the far ends of the plane, cut off where nothing is free any more.
Loop cut_off(const Loop& loop, const Frame& frame) {
  Loop cut;
  for (const PointUm& point : loop) {
    cut.push_back({std::clamp(point.s, frame.x.low - beyond_reach_um, frame.x.high + beyond_reach_um),
                   std::clamp(point.t, frame.y.low - beyond_reach_um, frame.y.high + beyond_reach_um)});
  }
  return cut;
}

Loop seen_from_box(const Loop& loop, core::Heading heading) {
  Loop out;
  for (const PointUm& point : loop) {
    const core::Point2 at = core::to_box(heading, core::Point2{core::Length::from_um(point.s), core::Length::from_um(point.t)});
    out.push_back({at.a.um(), at.b.um()});
  }
  return out;
}

bool has_outline(const std::vector<Wall>& walls) {
  return std::any_of(walls.begin(), walls.end(), [](const Wall& wall) { return wall.material() == Side::outside; });
}

}  // namespace

Um FreePlan::least_reach() const {
  Um least = beyond_reach_um;
  for (const Wall& wall : walls_x_) least = std::min(least, wall.reach());
  return least;
}

FreePlan FreePlan::turned_by(core::Heading heading, Um more_reach) const {
  std::vector<Wall> walls;
  const bool framed = has_outline(walls_x_);
  const Frame frame{extent(Strips::along_y), extent(Strips::along_x)};
  if (!framed && is_empty(frame)) return *this;   // nothing is free, whichever way one looks at it
  for (const Wall& wall : walls_x_) {
    std::vector<Loop> loops;
    for (const Loop& loop : wall.loops()) loops.push_back(seen_from_box(framed ? loop : cut_off(loop, frame), heading));
    walls.emplace_back(std::move(loops), wall.material(), std::max<Um>(0, wall.reach() + more_reach), wall.source());
  }
  if (!framed) {
    // Cavities measured across x or y come as material only, unbounded: the frame bounds what can be free.
    const Um more = std::max<Um>(0, -more_reach) + corner_move_um;
    const Um x_low = frame.x.low - more, x_high = frame.x.high + more;
    const Um y_low = frame.y.low - more, y_high = frame.y.high + more;
    const Loop around{{x_low, y_low}, {x_high, y_low}, {x_high, y_high}, {x_low, y_high}};
    walls.emplace_back(std::vector<Loop>{seen_from_box(around, heading)}, Side::outside, 0, 0);
  }
  return FreePlan(std::move(walls), names_);
}

FreePlan FreePlan::turned(core::Heading heading) const {
  return heading.is_square() ? *this : turned_by(heading, tight_um);
}

FreePlan FreePlan::turned_loosely(core::Heading heading, Um by) const {
  return turned_by(heading, -by);
}

}  // namespace cellstow::region
