#pragma once
/// What hangs at the bench: build sheets and labels, each a page of its own that prints on A4. Internal to report.

#include <string>

#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::report {

/// One box: steps to tick, torques, room for what was measured and for initials.
/// @param box  index as boxes_of() counts
std::string build_sheet(const survey::Job& job, const plan::Plan& plan, std::size_t box);

/// "build-sheet-TW.html"
std::string build_sheet_name(const plan::BoxPlan& box);

/// Box labels, then part labels by mark.
std::string labels(const survey::Job& job, const plan::Plan& plan);

/// Tightening torque of a bolt of class 8.8 as bought, dry: 0.2 x 0.75 x proof load x diameter; 0 for a thread not listed.
/// Source: ISO 898-1 proof loads; nut factor 0.2 and 0.75 of proof from general machine design texts, give or take a third.
double dry_torque_nm(const std::string& thread);

}  // namespace cellstow::report
