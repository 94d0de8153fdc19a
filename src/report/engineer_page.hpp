#pragma once
/// The engineer's page: every sum of the restraint of each box on one side of paper. Internal to report.

#include <string>

#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::report {

/// A self-contained page; one side of A4 for each box.
std::string engineer_page(const survey::Job& job, const plan::Plan& plan);

}  // namespace cellstow::report
