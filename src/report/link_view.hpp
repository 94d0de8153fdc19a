#pragma once
/// A box opened: cells numbered, signs at the posts, links drawn. Internal to report.

#include <vector>

#include "cellstow/plan/plan.hpp"
#include "report/drawing.hpp"

namespace cellstow::report {

/// Seen from above along the box's own sides, one drawing a tier; nothing without links.
/// @param box  index as wiring counts boxes
std::vector<Drawing> link_drawings(const plan::Plan& plan, int box);

}  // namespace cellstow::report
