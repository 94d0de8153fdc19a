#include "report/lists.hpp"

#include <cmath>
#include <vector>

#include "report/limits_words.hpp"
#include "report/mock_up.hpp"
#include "report/stock_lists.hpp"
#include "report/tables.hpp"
#include "report/text.hpp"
#include "report/wired.hpp"
#include "report/xlsx.hpp"

namespace cellstow::report {
namespace {

std::string csv(const Table& table) {
  std::string out;
  const auto line = [&](const std::vector<std::string>& fields) {
    for (std::size_t i = 0; i < fields.size(); ++i) {
      if (i > 0) out += ',';
      out += csv_field(fields[i]);
    }
    out += "\r\n";
  };
  line(table.head);
  for (const auto& row : table.rows) line(row);
  return out;
}

}  // namespace

std::string cut_list_csv(const plan::Plan& plan) { return csv(cut_list(plan)); }

std::string hole_schedule_csv(const survey::Job& job, const plan::Plan& plan) {
  return csv(hole_schedule(job, plan));
}

std::string weights_csv(const survey::Job& job, const plan::Plan& plan) {
  return csv(weights(job, plan));
}

std::string limits_csv(const plan::Plan& plan) { return csv(all_limits(plan)); }

std::string links_csv(const survey::Job& job, const plan::Plan& plan) {
  return plan.wiring ? csv(link_list(job, plan)) : std::string();
}

std::string link_kinds_csv(const plan::Plan& plan) { return plan.wiring ? csv(link_kinds(plan)) : std::string(); }
std::string plywood_csv(const survey::Job& job, const plan::Plan& plan) { return csv(ply_list(job, plan)); }

std::string fixing_bolts_csv(const plan::Plan& plan) { return csv(fixing_bolts(plan)); }

std::string checks_csv(const plan::Plan& plan) { return csv(checks(plan)); }

std::string sheet_plan_csv(const survey::Job& job, const plan::Plan& plan) { return csv(sheet_plan(job, plan)); }

std::string bar_plan_csv(const survey::Job& job, const plan::Plan& plan) { return csv(bar_plan(job, plan)); }

std::string buying_list_csv(const survey::Job& job, const plan::Plan& plan) { return csv(buying_list(job, plan)); }

std::string lists_xlsx(const survey::Job& job, const plan::Plan& plan) {
  return to_xlsx({{"cut list", cut_list(plan)},
                  {"sheets", sheet_plan(job, plan)},
                  {"bars", bar_plan(job, plan)},
                  {"buying list", buying_list(job, plan)},
                  {"hole schedule", hole_schedule(job, plan)},
                  {"weights", weights(job, plan)},
                  {"checks", checks(plan)},
                  {"limits", all_limits(plan)}});
}

}  // namespace cellstow::report
