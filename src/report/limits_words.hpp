#pragma once
/// What limits a cavity, in sentences and rows. Internal to report.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/plan/plan.hpp"
#include "report/tables.hpp"

namespace cellstow::report {

/// "2 cells: 1.8 kWh, 9 km, 10.8 kg"; "nothing".
std::string worth_text(int cells, const limits::CellWorth& worth);

/// What gives more cells, and what costs them: one row each.
Table limits_table(const limits::CavityLimits& limits, const limits::CellWorth& worth);

/// What gives nothing, in one sentence for each reach; what fittings cost in other places; notes.
std::vector<std::string> limits_lines(const limits::CavityLimits& limits);

/// Will the cut box go in: one or more sentences a box.
std::vector<std::string> fit_lines(const plan::CavityPlan& cavity);

/// Every change of every cavity, for the list.
Table all_limits(const plan::Plan& plan);

/// The most striking finding of the plan in one line: little to change, several cells; empty when there is none, or when
/// the string would not take them.
std::string striking_limit(const plan::Plan& plan);

}  // namespace cellstow::report
