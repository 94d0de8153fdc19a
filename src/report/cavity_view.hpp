#pragma once
/// Plan, side and end view of a cavity with its boxes. Internal to report.

#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"
#include "report/drawing.hpp"
#include "report/look.hpp"

namespace cellstow::report {

/// Three views at one scale: measured sections and points, keep-outs, boxes with walls and contents,
/// fixings, tightest gaps.
std::vector<Drawing> cavity_views(const survey::Job& job, const survey::Cavity& cavity,
                                  const plan::CavityPlan& plan);

}  // namespace cellstow::report
