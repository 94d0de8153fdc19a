#include "report/lists.hpp"

#include <utility>

#include "report/limits_words.hpp"
#include "report/mock_up.hpp"
#include "report/stock_lists.hpp"
#include "report/text.hpp"
#include "report/wired.hpp"

namespace cellstow::report {

std::vector<NamedList> all_lists(const survey::Job& job, const plan::Plan& plan) {
  StockLists stock = stock_lists(job, plan);
  std::vector<NamedList> lists{{"cut list", cut_list(plan)},
                               {"sheet plan", std::move(stock.sheet_plan)},
                               {"bar plan", std::move(stock.bar_plan)},
                               {"buying list", std::move(stock.buying_list)},
                               {"hole schedule", hole_schedule(job, plan)},
                               {"fixing bolts", fixing_bolts(plan)},
                               {"weights", weights(job, plan)},
                               {"checks", checks(plan)},
                               {"limits", all_limits(plan)},
                               {"plywood", ply_list(job, plan)}};
  if (plan.wiring) {
    lists.push_back({"links", link_list(job, plan)});
    lists.push_back({"link kinds", link_kinds(plan)});
  }
  return lists;
}

std::string to_csv(const Table& table) {
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

}  // namespace cellstow::report
