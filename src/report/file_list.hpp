#pragma once
/// The list of what a run wrote. Internal to report.

namespace cellstow::report {

/// One path a line, below the output folder. The next run takes away what it no longer makes.
inline constexpr const char* file_list_name = "files.txt";

}  // namespace cellstow::report
