#pragma once
/// Small builders of cavities, cells and rules for the packing tests.

#include <utility>
#include <vector>

#include "cellstow/survey/job.hpp"

namespace cellstow::test {

using core::Length;
using core::Um;
using survey::Point2;

using Corners = std::vector<std::pair<Um, Um>>;

inline Length um(Um value) { return Length::from_um(value); }
inline Length mm(double value) { return Length::from_mm(value); }

inline std::vector<Point2> points(const Corners& corners) {
  std::vector<Point2> result;
  for (const auto& [a, b] : corners) result.push_back({um(a), um(b)});
  return result;
}

/// Upright walls over the whole height: two equal plan outlines.
inline survey::Cavity shaft(const Corners& outline, Um height,
                            const std::vector<Corners>& holes = {}) {
  survey::Cavity cavity;
  cavity.name = "test bay";
  cavity.sections.across = survey::Axis::z;
  for (const Um station : {Um{0}, height}) {
    survey::Section section{um(station), points(outline), {}};
    for (const Corners& hole : holes) section.holes.push_back(points(hole));
    cavity.sections.at.push_back(section);
  }
  return cavity;
}

inline survey::Cell cell(Um thickness, Um width, Um height) {
  survey::Cell result;
  result.name = "test cell";
  result.thickness = um(thickness);
  result.width = um(width);
  result.height = um(height);
  result.terminal_top = um(height);
  return result;
}

/// The classical problem: equal rectangles straight into the outline, no gaps at all.
inline survey::Rules bare_rules() {
  survey::Rules rules;
  for (Length* zero : {&rules.body_clearance, &rules.lid_clearance, &rules.wall, &rules.floor,
                       &rules.lid, &rules.liner, &rules.end_plate, &rules.strap_space,
                       &rules.between_blocks, &rules.headroom}) {
    *zero = Length{};
  }
  rules.block_cells = {1, 1'000'000};
  rules.box_outline = survey::BoxOutline::loose;
  rules.arrangement = survey::Arrangement::rows;
  return rules;
}

}  // namespace cellstow::test
