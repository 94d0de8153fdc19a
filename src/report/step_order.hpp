#pragma once
/// One order for what the STEP library writes in an order of its own. Internal to report.

#include <string>

namespace cellstow::report {

/// The same file with its styles in the order of the solids they colour, numbered anew, and the places of parts numbered from 1.
///
/// The library writes styles in the order of memory addresses and numbers places through all files of a program: the same input would
/// not give the same bytes.
/// @pre all styles stand behind everything else, as the library writes them
std::string in_one_order(const std::string& step);

}  // namespace cellstow::report
