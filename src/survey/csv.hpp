#pragma once
/// Lists as spreadsheets write them.

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace cellstow::survey {

struct CsvRow {
  std::size_t line = 1;              ///< on which the row starts, from 1
  std::vector<std::string> fields;   ///< blanks at both ends taken off unless quoted
};

/// Rows of a list as in RFC 4180, empty lines left out. Fields are divided by semicolons when the first line has more of
/// them than commas. A quote inside a field that is not quoted stands for itself: 17 5/16".
std::vector<CsvRow> read_csv(std::string_view text);

}  // namespace cellstow::survey
