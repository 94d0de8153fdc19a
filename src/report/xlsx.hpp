#pragma once
/// Tables as a workbook that opens in a spreadsheet, Office Open XML (ISO/IEC 29500). Internal to report.

#include <string>
#include <vector>

#include "report/lists.hpp"

namespace cellstow::report {

/// A sheet a list, named as it is (31 characters at most); heads stand still, numbers are numbers.
///
/// Dates in the file are fixed: same input, same bytes.
/// @throws std::runtime_error when it cannot be written
std::string to_xlsx(const std::vector<NamedList>& lists);

}  // namespace cellstow::report
