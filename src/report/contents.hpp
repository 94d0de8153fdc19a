#pragma once
/// What lies in a box, as flat shapes in the order from far to near. Internal to report.

#include <string>
#include <vector>

#include "cellstow/plan/plan.hpp"
#include "report/look.hpp"

namespace cellstow::report {

/// One body of a box's contents. `number` is the cell's number in the box, 0 for anything else.
struct Body {
  packing::Cuboid cuboid;
  Fill fill = Fill::cell;
  int number = 0;
  bool hidden = false;      ///< something nearer lies over part of it in this view
};

/// Cells, end plates and fittings, farthest from the eye first.
std::vector<Body> contents(const packing::BoxLayout& layout, const survey::Rules& rules, Look look);

}  // namespace cellstow::report
