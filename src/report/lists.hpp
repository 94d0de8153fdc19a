#pragma once
/// The lists as comma-separated text, RFC 4180. Internal to report.

#include <string>

#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::report {

std::string cut_list_csv(const plan::Plan& plan);      ///< flat parts, then bars: finished sizes
std::string hole_schedule_csv(const survey::Job& job, const plan::Plan& plan);
std::string weights_csv(const survey::Job& job, const plan::Plan& plan);
std::string limits_csv(const plan::Plan& plan);        ///< what limits each cavity
std::string fixing_bolts_csv(const plan::Plan& plan);  ///< bolts in the car's own fixings: thread, length, class, torque
std::string plywood_csv(const survey::Job& job, const plan::Plan& plan);   ///< pieces of the mock-up
std::string checks_csv(const plan::Plan& plan);
std::string links_csv(const survey::Job& job, const plan::Plan& plan);  ///< empty without links
std::string link_kinds_csv(const plan::Plan& plan);                     ///< empty without links
std::string sheet_plan_csv(const survey::Job& job, const plan::Plan& plan);
std::string bar_plan_csv(const survey::Job& job, const plan::Plan& plan);
std::string buying_list_csv(const survey::Job& job, const plan::Plan& plan);

/// All lists in one workbook, a sheet each.
std::string lists_xlsx(const survey::Job& job, const plan::Plan& plan);

}  // namespace cellstow::report
