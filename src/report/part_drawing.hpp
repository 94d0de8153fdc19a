#pragma once
/// Workshop drawings: one set of sheets for each sheet part, one for each box. Internal to report.

#include <vector>

#include "cellstow/fabrication/sheet_part.hpp"
#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"
#include "report/drawing_sheet.hpp"

namespace cellstow::report {

/// Flat pattern with tables and notes; folded parts also side, plan and end view on a sheet of their own.
DrawingSet part_drawing(const survey::Job& job, const fabrication::SheetPart& part);

/// Side, plan and end view with part marks, then the parts list, loose items and welds.
DrawingSet box_drawing(const survey::Job& job, const plan::BoxPlan& box);

/// All of a plan, boxes first; nothing for boxes without sheet parts.
std::vector<DrawingSet> workshop_drawings(const survey::Job& job, const plan::Plan& plan);

}  // namespace cellstow::report
