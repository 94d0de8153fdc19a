#pragma once
/// One box of the plan file. Internal to report.

#include "cellstow/plan/plan.hpp"
#include "report/json_values.hpp"

namespace cellstow::report {

/// Box, contents, panels, straps and fixings, docs/plan-file.md section 3.
Json box_to_json(const plan::BoxPlan& box);

/// A list of checks in the order given.
Json checks_to_json(const std::vector<core::Check>& checks);

}  // namespace cellstow::report
