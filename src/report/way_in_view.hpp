#pragma once
/// An opening with the shadow of what passes it. Internal to report.

#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"
#include "report/drawing.hpp"

namespace cellstow::report {

/// One drawing an opening: the opening square on, the shadow of the box where it passes (or sticks), the least gap or
/// the edges in the way. Empty when the way has no body to show.
std::vector<Drawing> way_in_drawings(const survey::Cavity& cavity, const way_in::BoxWay& way);

}  // namespace cellstow::report
