#pragma once
/// Pieces that build sheets and labels share. Internal to report.

#include <string>

namespace cellstow::report {

/// Everything up to the opened body.
std::string bench_head(const std::string& title);

/// A line with a box to tick.
std::string step(const std::string& text);

/// A line with a box to tick and room to write a figure at its end.
std::string step_to_fill(const std::string& text, const std::string& unit);

/// Room to write, on a line.
inline constexpr const char* blank = "<span class=\"blank\"></span>";
inline constexpr const char* tick = "<span class=\"tick\"></span>";

}  // namespace cellstow::report
