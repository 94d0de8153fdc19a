#pragma once
/// What to buy, and how it is cut from stock. Internal to report.

#include <map>
#include <string>
#include <utility>

#include "cellstow/fabrication/sheet_stock.hpp"
#include "report/tables.hpp"

namespace cellstow::report {

/// Sheet bought as one: material and thickness in mm.
using SheetKind = std::pair<std::string, double>;
using Sheets = std::map<SheetKind, fabrication::SheetPlan>;

/// "EN AW-5754 O/H111, 3 mm".
std::string sheet_name(const SheetKind& kind);

/// Every part cut from sheet or plate, laid on the job's stock sheets.
Sheets sheets_of(const survey::Job& job, const plan::Plan& plan);

struct StockLists {
  Table sheet_plan;    ///< where every flat part lies on its stock sheet
  Table bar_plan;      ///< which pieces come from which bar, in the order of cutting
  Table buying_list;   ///< cells, sheets, bars, screws, bought-in pieces, bolts for the car's own fixings
};
StockLists stock_lists(const survey::Job& job, const plan::Plan& plan);

}  // namespace cellstow::report
