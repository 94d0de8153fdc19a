#pragma once
/// The section "Splitting the cells" and its picture. Internal to report.

#include <optional>
#include <string>

#include "cellstow/choosing/splits.hpp"
#include "report/drawing.hpp"
#include "report/tables.hpp"

namespace cellstow::report {

/// Every way of sharing with its figures; `mark` column last: "chosen", "best".
Table split_table(const choosing::SplitStudy& study);
/// Front share over the cells in the first cavity that takes any. Empty with fewer than two ways.
std::optional<Drawing> split_drawing(const choosing::SplitStudy& study);
/// The section, heading included. `more` says where all ways stand when the table leaves some out: "lists/splits.csv".
std::string page_splits(const choosing::SplitStudy& study, const std::string& more);

}  // namespace cellstow::report
