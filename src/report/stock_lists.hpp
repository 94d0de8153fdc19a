#pragma once
/// What to buy, and how it is cut from stock. Internal to report.

#include "report/tables.hpp"

namespace cellstow::report {

struct StockLists {
  Table sheet_plan;    ///< where every flat part lies on its stock sheet
  Table bar_plan;      ///< which pieces come from which bar, in the order of cutting
  Table buying_list;   ///< cells, sheets, bars, screws, bought-in pieces
};
StockLists stock_lists(const survey::Job& job, const plan::Plan& plan);

}  // namespace cellstow::report
