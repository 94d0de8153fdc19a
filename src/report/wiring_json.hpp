#pragma once
/// Order, links and pieces of the string in the plan file. Internal to report.

#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"
#include "report/json_values.hpp"

namespace cellstow::report {

/// The keys that the links add to "wiring".
/// @pre plan.wiring
Json links_to_json(const survey::Job& job, const plan::Plan& plan);

}  // namespace cellstow::report
