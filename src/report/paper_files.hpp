#pragma once
/// Sheets of paper as files. The same sheets give the same bytes: no date, no clock. Internal to report.

#include <string>
#include <vector>

#include "report/paper.hpp"

namespace cellstow::report {

/// All sheets in one file, each in its own size.
std::string to_pdf(const std::vector<Paper>& sheets, const std::string& title);

/// One sheet; its width and height are given in mm, so that it prints at true size.
std::string to_svg(const Paper& sheet);

}  // namespace cellstow::report
