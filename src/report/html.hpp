#pragma once
/// Small pieces of HTML; every text goes through escaping here. Internal to report.

#include <string>
#include <string_view>
#include <vector>

#include "report/drawing.hpp"
#include "report/tables.hpp"

namespace cellstow::report {

/// `<name>escaped text</name>`, with a class when one is given. `klass` and `name` are our own words.
std::string element(std::string_view name, std::string_view text, std::string_view klass = {});

/// A table; `numbers` are the columns set to the right. A row whose first field is "NO" or whose
/// last field is "chosen" stands out. Nothing when there are no rows.
std::string html_table(const Table& table, const std::vector<std::size_t>& numbers = {},
                       std::string_view caption = {}, std::string_view klass = {});

/// A list of sentences; nothing when empty.
std::string html_list(const std::vector<std::string>& lines, std::string_view klass = {});

/// A drawing on a sheet of its own across the paper, or standing in the text.
std::string figure(const Drawing& drawing, bool own_sheet);

/// For a quoted CSS string: everything but letters, digits and blanks as an escape.
std::string css_string(std::string_view text);

}  // namespace cellstow::report
