#pragma once
/// Side, plan and end view of one part or a whole box on one sheet, with their main sizes. Internal to report.

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "report/draft.hpp"
#include "report/solid_views.hpp"

namespace cellstow::report {

struct Between { double low = 0, high = 0; };

struct ThreeViews {
  std::vector<const fabrication::FoldedSolid*> solids;
  std::vector<bool> off_in_plan;                         ///< left out of the plan: the lid; empty: none
  std::vector<std::string> names;                        ///< one a solid, empty for none; the same name is put once
  std::array<std::optional<Between>, 3> inside;          ///< along u, v, z: boxed dimensions
  survey::Projection projection = survey::Projection::first;
  survey::DrawnUnits units = survey::DrawnUnits::mm;
};

/// Largest drawing scale that lets the views fit the room, as the n of 1:n.
double views_scale(const ThreeViews& views, const Patch& room);

/// @return names that are not seen in any view
std::vector<std::string> add_views(Paper& sheet, const ThreeViews& views, const Patch& room, double scale);

}  // namespace cellstow::report
