#pragma once
/// The drawings that are not views of one cavity, and all of them in one list. Internal to report.

#include <optional>
#include <vector>

#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"
#include "report/drawing.hpp"

namespace cellstow::report {

/// The car in plan and from the left: axles, seats, boxes, centre of gravity before and after.
/// Empty without a wheelbase.
std::optional<Drawing> car_drawing(const survey::Job& job, const plan::Plan& plan);

/// The stack of heights of a box, layer by layer. Empty without layers.
std::optional<Drawing> stack_drawing(const box::Box& box);

/// Counts in series that the drive allows, as a bar, with the plan's count on it.
/// Empty without a string or without any limit.
std::optional<Drawing> window_drawing(const plan::Plan& plan);

/// Every stock sheet with the parts laid on it.
std::vector<Drawing> sheet_drawings(const survey::Job& job, const plan::Plan& plan);

/// Every drawing, in the page's order.
std::vector<Drawing> all_drawings(const survey::Job& job, const plan::Plan& plan);

/// The job's cavity that a cavity of the plan was made from; null when names do not meet.
const survey::Cavity* cavity_of(const survey::Job& job, const plan::CavityPlan& plan);

}  // namespace cellstow::report
