#pragma once
/// What to buy, and how it is cut from stock. Internal to report.

#include "report/tables.hpp"

namespace cellstow::report {

Table sheet_plan(const survey::Job& job, const plan::Plan& plan);   ///< where every flat part lies on its stock sheet
Table bar_plan(const survey::Job& job, const plan::Plan& plan);     ///< which pieces come from which bar, in the order of cutting
Table buying_list(const survey::Job& job, const plan::Plan& plan);  ///< cells, sheets, bars, screws, bought-in pieces

}  // namespace cellstow::report
