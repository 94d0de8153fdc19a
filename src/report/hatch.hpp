#pragma once
/// Hatching as plain lines: every viewer, printer and plotter draws it alike. Internal to report.

#include <vector>

#include "report/drawing.hpp"

namespace cellstow::report {

/// Segments inside a polygon, along (dx, dy), `apart` mm from one another, in step with the sheet's
/// corner so that neighbours line up.
std::vector<std::pair<Spot, Spot>> hatch(const std::vector<Spot>& polygon, double dx, double dy, double apart);

}  // namespace cellstow::report
