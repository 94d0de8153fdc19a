#pragma once
/// The tightest places, put into a view. Internal to report.

#include <string>
#include <vector>

#include "cellstow/plan/plan.hpp"
#include "report/look.hpp"
#include "report/sheet.hpp"

namespace cellstow::report {

/// A gap that lies in the plane of the view: from the box to what is near.
struct SeenGap {
  Flat from, to;
  std::string what;         ///< what is near
  std::string text;         ///< "10.4 to cavity wall (10 needed)"
};

/// The tightest gaps of which both ends can be seen at their true distance in this view; at most
/// five, none twice, and of each keep-out only the tightest. A gap across the line of sight belongs to another view.
std::vector<SeenGap> seen_gaps(const survey::Cavity& cavity,
                               const plan::CavityPlan& plan, Look look);

void draw_gap(Drawing& drawing, const Sheet& sheet, const SeenGap& gap);

}  // namespace cellstow::report
