#pragma once
/// Two walls of one place laid over each other: two cars, or one car's section and its own mirror image. Internal to report.

#include <string>
#include <vector>

#include "cellstow/report/compare.hpp"
#include "report/drawing.hpp"

namespace cellstow::report {

/// The section of each cavity whose left and right differ most, with its mirror image. None where left and right are alike.
std::vector<Drawing> sides_drawings(const std::vector<survey::Cavity>& cavities, const differences::LeftRight& sides);

/// The section of each cavity whose walls lie farthest apart in the two jobs.
std::vector<Drawing> wall_drawings(const survey::Job& first, const survey::Job& second, const std::vector<differences::SectionDifference>& differences);

}  // namespace cellstow::report
