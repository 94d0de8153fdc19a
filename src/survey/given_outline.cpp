#include "given_outline.hpp"

#include <fmt/format.h>

#include <cmath>

namespace cellstow::survey {

std::pair<char, char> axes_of_plane(Axis normal) {
  switch (normal) {
    case Axis::x: return {'y', 'z'};
    case Axis::y: return {'x', 'z'};
    default: return {'x', 'y'};
  }
}

std::optional<core::Point2> on_grid(const measuring::DrawnPoint& point, const std::string& what, const Node& told_at) {
  // written so that what is not a number is refused as well
  if (std::abs(point.a_mm) <= farthest_mm && std::abs(point.b_mm) <= farthest_mm)
    return core::Point2{Length::from_mm(point.a_mm), Length::from_mm(point.b_mm)};
  told_at.log->add("E107", told_at.pointer, "number out of range", fmt::format("{} at ({:.7g}, {:.7g}) mm", what, point.a_mm, point.b_mm),
                   in_words({-farthest_mm, farthest_mm}, "mm"), "the unit or the origin may be another one");
  return {};
}

void check_given(const GivenOutline& given, ProblemLog& log) {
  const Node whole{nullptr, "", &log};
  bool rings_hold = check_ring(whole, given.outline);
  for (const Ring& hole : given.holes) rings_hold = check_ring(whole, hole) && rings_hold;
  if (rings_hold) check_holes(given.outline, given.holes, std::vector<Node>(given.holes.size(), whole));
}

}  // namespace cellstow::survey
