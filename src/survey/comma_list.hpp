#pragma once
/// Comma-separated text as RFC 4180 has it: fields, quotes, quotes within quotes; lines may end in LF alone.

#include <string>
#include <string_view>
#include <vector>

namespace cellstow::survey {

struct CommaRow {
  int line = 0;  ///< in which it starts, counted from 1
  std::vector<std::string> fields;
};

struct CommaFault {
  int line = 0;
  std::string found, expected;
};

struct CommaList {
  std::vector<CommaRow> rows;  ///< as far as they could be read
  std::vector<CommaFault> faults;
};

/// A mark of byte order at the start (EF BB BF), as spreadsheets write it, is passed over.
/// Source: RFC 4180 (2005), section 2
CommaList parse_comma_list(std::string_view bytes);

}  // namespace cellstow::survey
