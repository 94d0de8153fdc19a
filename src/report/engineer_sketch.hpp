#pragma once
/// Sketch of the forces on a box: from above and from the side. Internal to report.

#include <string>

#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::report {

/// An SVG element, 186 mm wide. Box, fixings with shear and pull of the worst case, centre of gravity, and its height over the fixings.
std::string engineer_sketch(const survey::Cavity& cavity, const plan::BoxPlan& box);

}  // namespace cellstow::report
