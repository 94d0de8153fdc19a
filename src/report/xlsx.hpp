#pragma once
/// Tables as a workbook that opens in a spreadsheet, Office Open XML (ISO/IEC 29500). Internal to report.

#include <string>
#include <utility>
#include <vector>

#include "report/tables.hpp"

namespace cellstow::report {

/// A sheet a table, named as given (31 characters at most); heads stand still, numbers are numbers.
///
/// Dates in the file are fixed: same input, same bytes.
/// @throws std::runtime_error when it cannot be written
std::string to_xlsx(const std::vector<std::pair<std::string, Table>>& sheets);

}  // namespace cellstow::report
